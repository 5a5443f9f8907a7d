"""The composition root: the one file that sees every room, and that owns the clock and chance."""

import secrets
import socket
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from importlib.metadata import version
from typing import TYPE_CHECKING

from flask import Flask
from flask_socketio import SocketIO

from monreq import paths
from monreq.books.format import BookFormat
from monreq.config import Config
from monreq.domain.show import Show
from monreq.live.capacity import Doorman
from monreq.live.rooms import DESK, Admit, Rooms, Voice
from monreq.live.watching import Runs, Watching, started
from monreq.live.wire import WIRE, EndsQuietly
from monreq.printed import Printing
from monreq.services.bands import Bands
from monreq.services.next_show import ShowId, show_ids
from monreq.services.ports import Change
from monreq.services.short_codes import ALPHABET
from monreq.services.shows import Shows
from monreq.services.storage_watch import WatchedWriter
from monreq.services.tokens import KEY_BYTES
from monreq.storage.folder import DataFolder
from monreq.storage.held import Holding
from monreq.storage.open import Storage, open_storage
from monreq.storage.settings import EPOCH, FIRST_EPOCH
from monreq.telling import Parts, Telling
from monreq.upkeep import Clocks, Upkeep
from monreq.web import languages, pages
from monreq.web.access import admissions_in, listener, token_of
from monreq.web.addresses import host_of, interfaces, own_addresses
from monreq.web.assets import STATIC
from monreq.web.context import InstallationSettings, Web, install
from monreq.web.cookies import Cookies
from monreq.web.host_guard import HostGuard, SitePolicy, behind_one_proxy
from monreq.web.known_hosts import KnownHosts, machine_names
from monreq.web.pace import pace_for
from monreq.web.places import PlaceRenderer
from monreq.web.speech import refusal_said

if TYPE_CHECKING:
    from _typeshed.wsgi import WSGIApplication, WSGIEnvironment

_SOCKET_MESSAGE_LIMIT = 16 * 1024  # phones send nothing but their admission [bytes]
_PING_INTERVAL_S, _PING_TIMEOUT_S = 4, 5  # chosen: within ten seconds a page says that it may be old

FoundAnew = Callable[[], str]
"""Returns an address as it is now."""


def now_ms() -> int:
    """Return the time, in milliseconds since 1970, UTC."""
    return time.time_ns() // 1_000_000


def new_id(length: int = 8) -> str:
    """Return a random id: small letters and digits."""
    return "".join(secrets.choice(ALPHABET) for _ in range(length))


def new_show_id() -> str:
    """Return a random id for a show: short, because it stands in every code."""
    return new_id(4)


@dataclass(frozen=True)
class Monreq:
    """monreq put together, ready to be served."""

    flask: Flask
    socketio: SocketIO
    shows: Shows
    bands: Bands
    key: bytes
    epoch: str
    codes_url: str
    settings: InstallationSettings
    watching: Watching
    close: Callable[[], None]

    @property
    def show_id(self) -> ShowId:
        """What makes ids of shows."""
        return show_ids(self.key, self.epoch)

    def link(self, show: Show, mix: str | None, url: str) -> str:
        """Return the link that opens a mix, or the desk (None), at an address."""
        return f"{url}/j/{token_of(self.key, show, mix)}"


def open_shows(config: Config, *, may_write: bool) -> tuple[Storage, Shows]:
    """Open the storage and its shows, without anybody being told of changes; for commands."""
    storage = open_storage(config.database_url, config.async_mode, may_write=may_write)
    return storage, Shows(storage.log, storage.writer, now_ms, lambda _change: None)


def bands_of(storage: Storage) -> Bands:
    """Return the bands that a storage keeps."""
    return Bands(storage.bands, storage.writer, now_ms, new_id)


def build(
    config: Config,
    codes_url: str,
    port: int,
    codes_url_now: FoundAnew | None = None,
    holding: Holding | None = None,
) -> Monreq:
    """Put monreq together.

    Args:
        config: The settings.
        codes_url: The address that codes carry.
        port: The TCP port that browsers see, in the cookie's name: cookies do not tell ports apart. Several
            workers behind one proxy must read one another's cookies.
        codes_url_now: The same address, found anew: a laptop may get another one during a show.
        holding: What keeps others from putting the database back meanwhile.
    """
    key = DataFolder(config.data_dir).ensure_key(secrets.token_bytes)
    storage = _storage_of(config, key)
    app, policy = _flask(key, codes_url, port), _site_policy(config, codes_url)
    socketio = _socketio(app, config, policy)
    renderer = PlaceRenderer(app.jinja_env)
    clocks = Clocks(now_ms, time.monotonic, time.thread_time)
    upkeep = Upkeep(config, storage, holding or Holding(), clocks, version("monreq"))
    tell = _in_turn(lambda change: telling.tell(change), upkeep.note)
    shows = Shows(storage.log, WatchedWriter(storage.writer, upkeep.health, upkeep.slow), now_ms, tell)
    telling = Telling(
        Parts(config, app, socketio, renderer, shows, upkeep.health), _rooms(socketio, shows, key)
    )
    doorman = Doorman(app.wsgi_app, socketio, _is_desk(app))
    _put_in_front(app, lambda _: doorman)
    watching = Watching(socketio, [*upkeep.looks, *telling.looks, doorman.look])
    codes_url_now = codes_url_now or (lambda: codes_url)
    bands = bands_of(storage)
    epoch = storage.settings.get(EPOCH) or FIRST_EPOCH
    install(
        app,
        Web(
            shows=shows,
            bands=bands,
            books=BookFormat(),
            key=key,
            settings=storage.settings,
            codes_url=codes_url_now,
            health=upkeep.health,
            monotonic_s=time.monotonic,
            new_id=new_id,
            epoch=epoch,
            renderer=renderer,
            printed=Printing(storage.settings, key, codes_url_now),
            presence=telling.presence.snapshot,
            pace=pace_for(config.redis_url),
        ),
    )
    pages.init_app(app)
    _guard(app, config, policy)
    running = started(*telling.runs, Watching(socketio, upkeep.waiting_looks))
    close = partial(_close, (watching, *reversed(running)), storage)
    return Monreq(app, socketio, shows, bands, key, epoch, codes_url, storage.settings, watching, close)


def _storage_of(config: Config, key: bytes) -> Storage:
    storage = open_storage(config.database_url, config.async_mode, may_write=True)
    try:
        storage.require_key(key, DataFolder(config.data_dir).key_path, claims=True)
    except BaseException:
        storage.close()
        raise
    return storage


def _close(running: Iterable[Runs], storage: Storage) -> None:
    for one in running:
        one.stop()
    storage.close()


def _rooms(socketio: SocketIO, shows: Shows, key: bytes) -> Rooms:
    voice = Voice(languages.of_connection, refusal_said)
    return Rooms(socketio, _admit(shows, key), shows.state_now, voice)


def _flask(key: bytes, codes_url: str, port: int) -> Flask:
    app = Flask("monreq.web", template_folder=str(paths.templates_dir()), static_folder=str(STATIC))
    app.session_interface = Cookies()
    app.config.update(
        SECRET_KEY=_cookie_key(key),
        SESSION_COOKIE_NAME=f"monreq_{port}",
        SESSION_COOKIE_SECURE=codes_url.startswith("https://"),
    )
    return app


def _in_turn(*told: Callable[[Change], None]) -> Callable[[Change], None]:
    """Return what tells one after another."""

    def tell(change: Change) -> None:
        for one in told:
            one(change)

    return tell


def _guard(app: Flask, config: Config, policy: SitePolicy) -> None:
    """Put the guard outermost, before Socket.IO and what ends quietly behind it."""
    _put_in_front(app, EndsQuietly)
    _put_in_front(app, lambda inner: HostGuard(inner, policy))
    if config.behind_proxy:
        _put_in_front(app, behind_one_proxy)


def _is_desk(app: Flask) -> "Callable[[WSGIEnvironment], bool]":
    """Return what tells by its cookie whether a browser is admitted to a desk."""

    def is_desk(environ: "WSGIEnvironment") -> bool:
        cookie = app.session_interface.open_session(app, app.request_class(environ))
        return cookie is not None and any(one.is_desk for one in admissions_in(cookie))

    return is_desk


def _put_in_front(app: Flask, wrap: "Callable[[WSGIApplication], WSGIApplication]") -> None:
    setattr(app, "wsgi_app", wrap(app.wsgi_app))  # noqa: B010 - a type checker takes a plain assignment for a mistake


def _cookie_key(key: bytes) -> bytes:
    """Return the secret that cookies are signed with: another one than codes are derived from."""
    return b"cookies:" + key[:KEY_BYTES]


def _site_policy(config: Config, codes_url: str) -> SitePolicy:
    names = [*machine_names(socket.gethostname()), *config.trusted_hosts, host_of(codes_url)]
    return SitePolicy(KnownHosts(names, lambda: own_addresses(interfaces()), time.monotonic))


def _socketio(app: Flask, config: Config, policy: SitePolicy) -> SocketIO:
    return SocketIO(
        app,
        async_mode=config.async_mode,
        async_handlers=False,
        cors_allowed_origins=policy.origin_allowed,  # type: ignore[arg-type]  # its stubs know no callable
        manage_session=False,
        logger=WIRE,
        engineio_logger=WIRE,
        max_http_buffer_size=_SOCKET_MESSAGE_LIMIT,
        ping_interval=_PING_INTERVAL_S,
        ping_timeout=_PING_TIMEOUT_S,
    )


def _admit(shows: Shows, key: bytes) -> Admit:
    return lambda namespace, auth, cookie: listener(shows, key, auth, cookie, is_desk=namespace == DESK)
