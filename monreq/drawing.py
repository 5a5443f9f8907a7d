"""How what changed is drawn for pages that are open: each in its language, with the templates that drew the page."""

from collections.abc import Callable

from flask import Flask

from monreq.domain.show import Show
from monreq.live.presence import Presence
from monreq.services.health import Notice
from monreq.services.shows import Shows
from monreq.web import languages
from monreq.web.desk_view import desk_places
from monreq.web.health_view import health_places
from monreq.web.phone_view import phone_places
from monreq.web.places import PlaceRenderer, Remembered
from monreq.web.presence_view import presence_places


def desk_fragments(app: Flask, renderer: PlaceRenderer) -> Callable[[Show, Show, str], dict[str, str]]:
    """Return what draws what differs on the desk's page between two states, in a language."""
    places = Remembered(lambda show, _: desk_places(show), lambda show, _: (show.revision, show.at_ms))

    def changed(before: Show, after: Show, language: str) -> dict[str, str]:
        with languages.speaking(app, language):
            return renderer.changed(places.of(before), places.of(after))

    return changed


def notice_fragments(
    app: Flask, renderer: PlaceRenderer
) -> Callable[[tuple[Notice, ...], str], dict[str, str]]:
    """Return what draws the lines that say what is wrong, in a language."""

    def drawn(notices: tuple[Notice, ...], language: str) -> dict[str, str]:
        with languages.speaking(app, language):
            return renderer.everything(health_places(notices))

    return drawn


def phone_fragments(app: Flask, renderer: PlaceRenderer) -> Callable[[Show, Show, str, str], dict[str, str]]:
    """Return what draws what differs on the phones of a mix between two states, in a language."""
    places = Remembered(phone_places, lambda show, mix: (show.changed_at.get(mix, 0),))

    def changed(before: Show, after: Show, mix: str, language: str) -> dict[str, str]:
        with languages.speaking(app, language):
            return renderer.changed(places.of(before, mix), places.of(after, mix))

    return changed


def presence_fragments(
    app: Flask, renderer: PlaceRenderer, shows: Shows, presence: Presence
) -> Callable[[str, str], dict[str, str]]:
    """Return what draws who is there, for the desks of a show, in a language."""

    def drawn(show_id: str, language: str) -> dict[str, str]:
        with languages.speaking(app, language):
            return renderer.everything(presence_places(shows.seen(show_id), presence.snapshot(show_id)))

    return drawn
