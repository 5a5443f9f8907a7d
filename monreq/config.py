"""The settings of one monreq process; the environment is read here and nowhere else."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal, Self, TypedDict, Unpack, get_args

import platformdirs

AsyncMode = Literal["gevent", "threading"]

DEFAULT_HOST = "0.0.0.0"  # noqa: S104 - phones on the network must reach it; the host guard stands in front
DEFAULT_PORT = 8330
"""Chosen: above the privileged ports and not a usual default of web development servers. [TCP port]"""

_DATABASES = ("sqlite", "postgresql+psycopg")


class ConfigError(Exception):
    """A setting that cannot be used; its text is one sentence for the person who set it."""


class Overrides(TypedDict, total=False):
    """Settings given on the command line; None means not given."""

    data_dir: Path | None
    host: str | None
    port: int | None
    address: str | None


@dataclass(frozen=True)
class Config:
    """Everything that can be set from outside.

    Attributes:
        data_dir: Folder of the key, the database and the lock, named in full.
        host: Address to bind.
        port: TCP port to bind; 0 lets the system choose.
        address: What codes carry instead of this machine's best address: a host, host:port or URL.
        database_url: SQLAlchemy URL, SQLite or PostgreSQL.
        redis_url: Message queue that joins several processes; None for one process.
        async_mode: What runs the requests.
        trusted_hosts: Names beside the machine's own under which pages may be asked for.
        behind_proxy: Whether exactly one reverse proxy stands in front, so that its
            X-Forwarded-For and X-Forwarded-Proto are believed.
    """

    data_dir: Path
    host: str
    port: int
    address: str | None
    database_url: str = field(repr=False)  # may hold a password
    redis_url: str | None = field(repr=False)
    async_mode: AsyncMode
    trusted_hosts: tuple[str, ...]
    behind_proxy: bool

    @classmethod
    def from_environment(cls, environ: Mapping[str, str], **overrides: Unpack[Overrides]) -> Self:
        """Read the settings; what is given in overrides goes before the environment.

        Raises:
            ConfigError: If a setting cannot be used.
        """
        data_dir = (overrides.get("data_dir") or _data_dir(environ)).absolute()
        port = overrides.get("port")
        return cls(
            data_dir=data_dir,
            host=overrides.get("host") or _text(environ, "HOST") or DEFAULT_HOST,
            port=_port(environ) if port is None else _valid_port(port, "--port"),
            address=overrides.get("address") or _text(environ, "ADDRESS"),
            database_url=_database_url(environ, data_dir),
            redis_url=_redis_url(environ),
            async_mode=async_mode(environ),
            trusted_hosts=_names(environ, "TRUSTED_HOSTS"),
            behind_proxy=_flag(environ, "BEHIND_PROXY"),
        )


def load(**overrides: Unpack[Overrides]) -> Config:
    """Read the settings from this process's environment."""
    return Config.from_environment(os.environ, **overrides)


def load_async_mode() -> AsyncMode:
    """Read the one setting that must be known before anything else is imported."""
    return async_mode(os.environ)


def async_mode(environ: Mapping[str, str]) -> AsyncMode:
    """What is to run the requests, gevent unless said otherwise.

    Raises:
        ConfigError: If it is neither of the known modes.
    """
    wanted = _text(environ, "ASYNC_MODE") or "gevent"
    for mode in get_args(AsyncMode):
        if wanted == mode:
            return mode  # type: ignore[no-any-return]  # get_args() knows the members but not their type
    raise ConfigError(f"MONREQ_ASYNC_MODE must be gevent or threading, not {wanted!r}.")


def _text(environ: Mapping[str, str], name: str) -> str | None:
    return environ.get(f"MONREQ_{name}", "").strip() or None


def _data_dir(environ: Mapping[str, str]) -> Path:
    given = _text(environ, "DATA_DIR")
    return Path(given).expanduser() if given else platformdirs.user_data_path("monreq", appauthor=False)


def _port(environ: Mapping[str, str]) -> int:
    given = _text(environ, "PORT")
    if given is None:
        return DEFAULT_PORT
    if not (given.isascii() and given.isdigit()):
        raise ConfigError(f"MONREQ_PORT must be a number from 0 to 65535, not {given!r}.")
    return _valid_port(int(given), "MONREQ_PORT")


def _valid_port(port: int, name: str) -> int:
    if not 0 <= port <= 65535:
        raise ConfigError(f"{name} must be a number from 0 to 65535, not {port}.")
    return port


def _database_url(environ: Mapping[str, str], data_dir: Path) -> str:
    given = _text(environ, "DATABASE_URL")
    if given is None:
        return f"sqlite:///{(data_dir / 'monreq.sqlite').as_posix()}"
    scheme, separator, rest = given.partition("://")
    scheme = "postgresql+psycopg" if scheme in ("postgres", "postgresql") else scheme
    if not separator or scheme not in _DATABASES:
        raise ConfigError("MONREQ_DATABASE_URL must begin with sqlite:// or postgresql://.")
    return f"{scheme}://{rest}"


def _redis_url(environ: Mapping[str, str]) -> str | None:
    given = _text(environ, "REDIS_URL")
    if given and not given.startswith(("redis://", "rediss://", "unix://")):
        raise ConfigError("MONREQ_REDIS_URL must begin with redis://, rediss:// or unix://.")
    return given


def _names(environ: Mapping[str, str], name: str) -> tuple[str, ...]:
    given = _text(environ, name) or ""
    return tuple(part.strip() for part in given.split(",") if part.strip())


def _flag(environ: Mapping[str, str], name: str) -> bool:
    given = (_text(environ, name) or "no").lower()
    if given in ("1", "yes", "true", "on"):
        return True
    if given in ("0", "no", "false", "off"):
        return False
    raise ConfigError(f"MONREQ_{name} must be yes or no, not {given!r}.")
