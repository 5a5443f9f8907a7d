"""Settings from an environment and a command line."""

from pathlib import Path

import platformdirs
import pytest

from monreq import config
from monreq.config import Config, ConfigError, async_mode, load, load_async_mode


def test_config_of_an_empty_environment() -> None:
    folder = platformdirs.user_data_path("monreq", appauthor=False)

    settings = Config.from_environment({})

    assert settings == Config(
        data_dir=folder,
        host=config.DEFAULT_HOST,
        port=8330,
        address=None,
        database_url=f"sqlite:///{(folder / 'monreq.sqlite').as_posix()}",
        redis_url=None,
        async_mode="gevent",
        trusted_hosts=(),
        behind_proxy=False,
    )


def test_config_of_a_full_environment() -> None:
    settings = Config.from_environment(
        {
            "MONREQ_DATA_DIR": "/srv/monreq",
            "MONREQ_HOST": "10.0.0.5",
            "MONREQ_PORT": "0",
            "MONREQ_ADDRESS": "https://stage.example",
            "MONREQ_DATABASE_URL": "postgresql://u:p@db/monreq",
            "MONREQ_REDIS_URL": "redis://queue",
            "MONREQ_ASYNC_MODE": "threading",
            "MONREQ_TRUSTED_HOSTS": "stage.example, , other.example ",
            "MONREQ_BEHIND_PROXY": "Yes",
        }
    )

    assert settings == Config(
        data_dir=Path("/srv/monreq"),
        host="10.0.0.5",
        port=0,
        address="https://stage.example",
        database_url="postgresql+psycopg://u:p@db/monreq",
        redis_url="redis://queue",
        async_mode="threading",
        trusted_hosts=("stage.example", "other.example"),
        behind_proxy=True,
    )


def test_config_takes_the_command_line_first(tmp_path: Path) -> None:
    environ = {"MONREQ_DATA_DIR": "/srv/monreq", "MONREQ_HOST": "10.0.0.5", "MONREQ_PORT": "81"}

    settings = Config.from_environment(
        environ, data_dir=tmp_path, host="127.0.0.1", port=0, address="stage.local"
    )

    assert (settings.data_dir, settings.host, settings.port) == (tmp_path, "127.0.0.1", 0)
    assert settings.address == "stage.local"
    assert settings.database_url == f"sqlite:///{(tmp_path / 'monreq.sqlite').as_posix()}"


@pytest.mark.parametrize("by", ["option", "environment"])
def test_config_names_a_folder_in_full(by: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)

    if by == "option":
        settings = Config.from_environment({}, data_dir=Path("evening"))
    else:
        settings = Config.from_environment({"MONREQ_DATA_DIR": "evening"})

    assert settings.data_dir == tmp_path / "evening"
    assert settings.database_url == f"sqlite:///{(tmp_path / 'evening' / 'monreq.sqlite').as_posix()}"


def test_config_takes_the_environment_where_the_command_line_says_nothing() -> None:
    environ = {"MONREQ_HOST": "10.0.0.5", "MONREQ_PORT": "81", "MONREQ_ADDRESS": " "}

    settings = Config.from_environment(environ, data_dir=None, host=None, port=None, address=None)

    assert (settings.host, settings.port, settings.address) == ("10.0.0.5", 81, None)


@pytest.mark.parametrize(
    ("name", "value", "sentence"),
    [
        ("PORT", "http", "MONREQ_PORT must be a number from 0 to 65535, not 'http'."),
        ("PORT", "-1", "MONREQ_PORT must be a number from 0 to 65535, not '-1'."),
        ("PORT", "65536", "MONREQ_PORT must be a number from 0 to 65535, not 65536."),
        ("PORT", "\u0661", "MONREQ_PORT must be a number from 0 to 65535, not '\u0661'."),
        ("ASYNC_MODE", "x", "MONREQ_ASYNC_MODE must be gevent or threading, not 'x'."),
        ("BEHIND_PROXY", "2", "MONREQ_BEHIND_PROXY must be yes or no, not '2'."),
        (
            "DATABASE_URL",
            "other://u:p@db",
            "MONREQ_DATABASE_URL must begin with sqlite:// or postgresql://.",
        ),
        (
            "REDIS_URL",
            "http://u:p@queue",
            "MONREQ_REDIS_URL must begin with redis://, rediss:// or unix://.",
        ),
    ],
)
def test_config_refuses_a_bad_setting_in_one_sentence(name: str, value: str, sentence: str) -> None:
    with pytest.raises(ConfigError) as refusal:
        Config.from_environment({f"MONREQ_{name}": value})

    assert str(refusal.value) == sentence


def test_config_refuses_a_bad_port_on_the_command_line() -> None:
    with pytest.raises(ConfigError, match=r"^--port must be a number from 0 to 65535, not 70000\.$"):
        Config.from_environment({}, port=70000)


@pytest.mark.security
def test_config_shows_no_password_when_printed() -> None:
    settings = Config.from_environment(
        {
            "MONREQ_DATABASE_URL": "postgresql://u:hidden@db/monreq",
            "MONREQ_REDIS_URL": "redis://:hidden@queue",
        }
    )

    assert "hidden" not in repr(settings)


@pytest.mark.parametrize("word", ["0", "no", "FALSE", "off", " "])
def test_config_understands_no(word: str) -> None:
    assert Config.from_environment({"MONREQ_BEHIND_PROXY": word}).behind_proxy is False


def test_load_reads_the_environment_of_the_process(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MONREQ_PORT", "81")
    monkeypatch.setenv("MONREQ_ASYNC_MODE", "threading")

    assert load().port == 81
    assert load_async_mode() == "threading"


def test_async_mode_is_gevent_unless_said_otherwise() -> None:
    assert async_mode({}) == "gevent"
