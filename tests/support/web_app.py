"""A Flask app around a show on a log in memory, with the JSON interface, and hands to set its stage."""

from functools import cached_property

from flask import Flask

from monreq.books.format import BookFormat
from monreq.domain import commands as c
from monreq.domain.events import Recorded
from monreq.domain.show import Show
from monreq.services.bands import Bands
from monreq.services.shows import Receipt, Shows
from monreq.storage.settings import FIRST_EPOCH
from monreq.web import api, languages
from monreq.web.access import token_of
from monreq.web.context import Web, install
from monreq.web.places import PlaceRenderer
from tests.support.memory_log import InlineWriter, MemoryLog
from tests.support.memory_shelf import MemoryShelf
from tests.support.stage import START_MS, Stage

KEY = bytes(range(32))
LARGEST_BODY = 64 * 1024


def told_by_api(show_id: str, own: str) -> str:
    """Return the id by which programs know a show's own request or decision, while nothing was ever restored."""
    return f"{own}.{show_id}.{FIRST_EPOCH}"


class Site:
    """A served show.

    Attributes:
        log: Of the show; make it fail with its `at_commit`.
        now_ms: The time, which only `wait` moves. [ms since 1970, UTC]
    """

    def __init__(self, stage: Stage) -> None:
        self.log = MemoryLog()
        self.now_ms = START_MS
        self.show_id = stage.show.id
        self._keep(stage)
        self.shows = Shows(self.log, InlineWriter(), lambda: self.now_ms, tell=lambda _: None)
        self.bands = Bands(MemoryShelf(), InlineWriter(), lambda: self.now_ms, lambda: "never")

    @cached_property
    def app(self) -> Flask:
        app = Flask(__name__)
        app.config.update(
            TESTING=True, SECRET_KEY="cookies are signed with this", MAX_CONTENT_LENGTH=LARGEST_BODY
        )
        install(
            app,
            Web(
                shows=self.shows,
                bands=self.bands,
                books=BookFormat(),
                key=KEY,
                settings=_Settings(),
                codes_url=lambda: "http://192.0.2.7:8330",
                monotonic_s=lambda: self.now_ms / 1000,
                new_id=lambda: "never",
                epoch=FIRST_EPOCH,
                renderer=PlaceRenderer(app.jinja_env),
                printed=_NothingPrinted(),
            ),
        )
        languages.init_app(app)
        app.register_blueprint(api.blueprint)
        languages.init_app(app)
        return app

    @property
    def show(self) -> Show:
        return self.shows.state(self.show_id)

    def wait(self, seconds: float) -> None:
        """Let time pass."""
        self.now_ms += round(seconds * 1000)

    def do(self, command: c.Command) -> Receipt:
        """Have a command done as if a page had sent it."""
        return self.shows.submit(self.show_id, command)

    def token(self, mix: str | None = None) -> str:
        """Return the token that opens a mix, or the desk, now."""
        return token_of(KEY, self.show, mix)

    def recorded(self) -> list[Recorded]:
        """Return the whole log of the show."""
        return self.log.read_after(self.show_id, 0)

    def _keep(self, stage: Stage) -> None:
        self.log.create(self.show_id, START_MS)
        with self.log.hold(self.show_id) as held:
            held.append(stage.log, [], stage.show)


class _Settings(dict[str, str]):
    def put(self, name: str, value: str) -> None:
        self[name] = value


class _NothingPrinted:
    def qr_svg(self, text: str, label: str) -> str:
        return f"{text} {label}"

    def wifi_svg(self) -> str:
        return ""

    def wifi_misread(self) -> tuple[str, ...]:
        return ()

    def sheets_pdf(self, show: Show) -> bytes:
        return b"%PDF " + show.name.encode()

    def cards_pdf(self, show: Show) -> bytes:
        return show.name.encode()
