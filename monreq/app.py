"""The composition root: the one file that sees every room, and that owns the clock and chance."""

import secrets
import socket
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from flask import Flask
from flask_socketio import SocketIO

from monreq import paths
from monreq.books.format import BookFormat
from monreq.config import Config
from monreq.domain.refusals import UnknownCode
from monreq.domain.show import Show
from monreq.live.announcer import Announcer
from monreq.live.rooms import DESK, Admit, Rooms, Voice
from monreq.live.wire import WIRE, EndsQuietly
from monreq.printing import qr
from monreq.printing.card import Card, Wifi
from monreq.services.bands import Bands
from monreq.services.short_codes import ALPHABET, short_code
from monreq.services.shows import Shows
from monreq.services.tokens import KEY_BYTES
from monreq.storage.folder import DataFolder
from monreq.storage.open import Storage, open_storage
from monreq.web import languages, pages, wording
from monreq.web.access import Principal, admission_in, principal_of_token, token_of
from monreq.web.addresses import host_of, interfaces, own_addresses
from monreq.web.assets import STATIC
from monreq.web.codes import WIFI_NETWORK, WIFI_PASSWORD
from monreq.web.context import InstallationSettings, Web, install
from monreq.web.desk_view import desk_places
from monreq.web.host_guard import HostGuard, SitePolicy, behind_one_proxy
from monreq.web.known_hosts import KnownHosts, machine_names
from monreq.web.pace import pace_for
from monreq.web.phone_view import phone_places
from monreq.web.places import PlaceRenderer, Remembered
from monreq.web.speech import LANGUAGES, refusal_said

if TYPE_CHECKING:
    from _typeshed.wsgi import WSGIApplication

_SOCKET_MESSAGE_LIMIT = 16 * 1024  # phones send nothing but their admission [bytes]
_PING_INTERVAL_S, _PING_TIMEOUT_S = 10, 8  # a phone that left is noticed within 18 s


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
    codes_url: str
    settings: InstallationSettings
    close: Callable[[], None]

    def link(self, show: Show, mix: str | None, url: str) -> str:
        """Return the link that opens a mix, or the desk (None), at an address."""
        return f"{url}/j/{token_of(self.key, show, mix)}"


class Printing:
    """Codes and cards, with what the installation knows of its Wi-Fi."""

    def __init__(self, settings: InstallationSettings, key: bytes, codes_url: str) -> None:
        self._settings, self._key, self._codes_url = settings, key, codes_url

    def qr_svg(self, text: str, label: str) -> str:
        """Return a text's code as an SVG."""
        return qr.svg(text, label)

    def wifi_svg(self) -> str:
        """Return the code that joins the Wi-Fi; empty if none was entered."""
        wifi = self.wifi()
        return qr.svg(qr.wifi_join_text(wifi.network, wifi.password), "Join the Wi-Fi") if wifi else ""

    def wifi_misread(self) -> tuple[str, ...]:
        """Return the characters of the Wi-Fi's name and password that phones may misread."""
        wifi = self.wifi()
        return qr.misread_characters(wifi.network + wifi.password) if wifi else ()

    def wifi(self) -> Wifi | None:
        """Return the Wi-Fi that was entered."""
        network = self._settings.get(WIFI_NETWORK)
        return Wifi(network, self._settings.get(WIFI_PASSWORD) or "") if network else None

    def cards_pdf(self, show: Show) -> bytes:
        """Return the cards of a show: one a mix, and one each where musicians share it."""
        # What draws a page takes a third of monreq's memory and start, and most evenings print nothing.
        from monreq.printing.cards import cards_pdf  # noqa: PLC0415

        return cards_pdf([card for mix in show.mixes for card in self._cards(show, mix)], self.wifi())

    def _cards(self, show: Show, mix: str) -> list[Card]:
        facts = show.mix(mix)
        url = f"{self._codes_url}/j/{token_of(self._key, show, mix)}"
        names = [show.musician_name(one) for one in facts.musicians]
        holders = [(name,) for name in names] if len(names) > 1 else [tuple(names)]
        by_hand = short_code(self._key, show, mix)
        detail = wording.mix_kind(facts)
        return [Card(show.name, facts.name, detail, holder, url, by_hand) for holder in holders]


def open_shows(config: Config, *, may_write: bool) -> tuple[Storage, Shows]:
    """Open the storage and its shows, without anybody being told of changes; for commands."""
    storage = open_storage(config.database_url, config.async_mode, may_write=may_write)
    return storage, Shows(storage.log, storage.writer, now_ms, lambda _change: None)


def bands_of(storage: Storage) -> Bands:
    """Return the bands that a storage keeps."""
    return Bands(storage.bands, storage.writer, now_ms, new_id)


def build(config: Config, codes_url: str, port: int) -> Monreq:
    """Put monreq together.

    Args:
        config: The settings.
        codes_url: The address that codes carry.
        port: The TCP port that browsers see, in the cookie's name: cookies do not tell ports apart. Several
            workers behind one proxy must read one another's cookies.
    """
    key = DataFolder(config.data_dir).ensure_key(secrets.token_bytes)
    storage = open_storage(config.database_url, config.async_mode, may_write=True)
    app = Flask(
        "monreq.web",
        template_folder=str(paths.templates_dir()),
        static_folder=str(STATIC),
    )
    app.config.update(SECRET_KEY=_cookie_key(key), SESSION_COOKIE_NAME=f"monreq_{port}")
    app.config.update(SESSION_COOKIE_SECURE=codes_url.startswith("https://"))
    policy = _site_policy(config, codes_url)
    socketio = _socketio(app, config, policy)
    renderer = PlaceRenderer(app.jinja_env)
    shows = Shows(storage.log, storage.writer, now_ms, lambda change: announcer.tell(change))
    # What other processes' connections are in is not known here.
    voice = Voice(languages.of_connection, refusal_said, tuple(LANGUAGES) if config.redis_url else ())
    rooms = Rooms(socketio, _admit(shows, key), shows.state, voice)
    announcer = Announcer(socketio, rooms, _desk_fragments(app, renderer), _phone_fragments(app, renderer))
    printing = Printing(storage.settings, key, codes_url)
    bands = bands_of(storage)
    install(
        app,
        Web(
            shows=shows,
            bands=bands,
            books=BookFormat(),
            key=key,
            settings=storage.settings,
            codes_url=lambda: codes_url,
            monotonic_s=time.monotonic,
            new_id=new_id,
            new_show_id=new_show_id,
            renderer=renderer,
            printed=printing,
            pace=pace_for(config.redis_url),
        ),
    )
    pages.init_app(app)
    _put_in_front(app, EndsQuietly)
    _put_in_front(app, lambda inner: HostGuard(inner, policy))  # outermost, before Socket.IO
    if config.behind_proxy:
        _put_in_front(app, behind_one_proxy)
    announcer.start()

    def close() -> None:
        announcer.stop()
        storage.close()

    return Monreq(app, socketio, shows, bands, key, codes_url, storage.settings, close)


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
        message_queue=config.redis_url,
        max_http_buffer_size=_SOCKET_MESSAGE_LIMIT,
        ping_interval=_PING_INTERVAL_S,
        ping_timeout=_PING_TIMEOUT_S,
    )


def _desk_fragments(app: Flask, renderer: PlaceRenderer) -> Callable[[Show, Show, str], dict[str, str]]:
    places = Remembered(lambda show, _: desk_places(show))

    def changed(before: Show, after: Show, language: str) -> dict[str, str]:
        with languages.speaking(app, language):
            return renderer.changed(places.of(before), places.of(after))

    return changed


def _phone_fragments(app: Flask, renderer: PlaceRenderer) -> Callable[[Show, Show, str, str], dict[str, str]]:
    places = Remembered(lambda show, mix: phone_places(show, mix) if mix in show.mixes else {})

    def changed(before: Show, after: Show, mix: str, language: str) -> dict[str, str]:
        with languages.speaking(app, language):
            return renderer.changed(places.of(before, mix), places.of(after, mix))

    return changed


def _admit(shows: Shows, key: bytes) -> Admit:
    """Return what admits a live connection: by a token, or by the cookie and the mix that the page names."""

    def admit(namespace: str, auth: Mapping[str, Any], cookie: Mapping[str, Any]) -> Principal:
        if isinstance(auth.get("token"), str):
            return principal_of_token(shows, key, auth["token"])
        found = admission_in(cookie, None if namespace == DESK else str(auth.get("mix", "")))
        if found is None:
            raise UnknownCode
        return found

    return admit
