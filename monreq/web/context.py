"""What the pages and the JSON interface work with, and the one place that finds it in the running app."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import IO, Protocol, cast

from flask import Flask, current_app

from monreq.domain.band import Band
from monreq.domain.presence import Snapshot
from monreq.domain.show import Show
from monreq.services.bands import Bands
from monreq.services.health import Health
from monreq.services.next_show import ShowId, show_ids
from monreq.services.shows import Shows
from monreq.web.pace import Pace, PaceHere
from monreq.web.places import PlaceRenderer

_NAME = "monreq"


class InstallationSettings(Protocol):
    """Small facts that belong to the installation, not to a show; kept by the storage."""

    def get(self, name: str) -> str | None:
        """Return a setting, None if it was never put."""

    def put(self, name: str, value: str) -> None:
        """Keep a setting."""


class Printed(Protocol):
    """Codes and cards; made by the printing room."""

    def qr_svg(self, text: str, label: str) -> str:
        """Return a text's code as an SVG, with a label for those who cannot see it."""

    def wifi_svg(self) -> str:
        """Return the code that joins the Wi-Fi; empty if none was entered."""

    def wifi_misread(self) -> Sequence[str]:
        """Return the characters of the Wi-Fi's name and password that phones may misread."""

    def cards_pdf(self, show: Show) -> bytes:
        """Return the cards of a show."""

    def sheets_pdf(self, show: Show) -> bytes:
        """Return the sheets of a show."""


class BookFormat(Protocol):
    """The files that carry bands; made by the room of books."""

    @property
    def largest_bytes(self) -> int:
        """More than this no book has."""

    def read(self, file: IO[bytes]) -> Band:
        """Return the band of a book, or refuse the file in a sentence."""

    def write(self, band: Band, now_ms: int) -> bytes:
        """Return a band's book, exported at a time. [ms since 1970, UTC]."""


@dataclass(frozen=True, slots=True)
class Web:
    """The app's working parts.

    Attributes:
        books: Reads and writes band books.
        key: The secret that codes are derived from.
        codes_url: Returns the address that codes carry, such as `http://192.0.2.7:8330`.
        monotonic_s: A clock that only counts on, for measuring how fast somebody sends. [s]
        new_id: Returns an id that was never used, for a page's submissions, a new mix, source or musician.
        epoch: Which restoring of the data this is: ids of before one mean nothing after it.
        renderer: Draws the places of the pages.
        printed: What is printed, or shown to be scanned.
        presence: Returns who is there now, for a show's id.
        pace: How fast each phone sent so far.
        health: What is wrong with the laptop just now.
    """

    shows: Shows
    bands: Bands
    books: BookFormat
    key: bytes
    settings: InstallationSettings
    codes_url: Callable[[], str]
    monotonic_s: Callable[[], float]
    new_id: Callable[[], str]
    epoch: str
    renderer: PlaceRenderer
    printed: Printed
    presence: Callable[[str], Snapshot] = lambda _show_id: Snapshot()
    pace: Pace = field(default_factory=PaceHere)
    health: Health = field(default_factory=Health)

    @property
    def show_id(self) -> ShowId:
        """What makes ids of shows."""
        return show_ids(self.key, self.epoch)


def install(app: Flask, web: Web) -> None:
    """Give an app its working parts."""
    app.extensions[_NAME] = web


def web() -> Web:
    """Return the working parts of the app that is answering."""
    return cast(Web, current_app.extensions[_NAME])
