"""Places: the parts of a page that change while it is open, each a template filled from a value.

A place is a function of the show's state and the language alone, so that one rendering serves every page that shows it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from jinja2 import Environment

from monreq.domain.show import Show
from monreq.web.speech import language


@dataclass(frozen=True, slots=True)
class Place:
    """One place.

    Attributes:
        template: The fragment that draws it.
        view: What it is filled with: frozen and hashable.
        children: Ids of the places within it, in order; only containers have them.
    """

    template: str
    view: Any
    children: tuple[str, ...] = ()


Places = Mapping[str, Place]
"""By id, containers before what is in them."""


class Remembered:
    """Makes places of a show, and keeps the last of each kind: the state before a change was the one after the last.

    Args:
        make: Makes the places of a subject.
        version: Says since which revision, and as of when, the subject looks as it does.
    """

    def __init__(
        self, make: Callable[[Show, str], Places], version: Callable[[Show, str], tuple[int, ...]]
    ) -> None:
        self._make, self._version = make, version
        self._last: dict[tuple[str, str, str], tuple[tuple[int, ...], Places]] = {}

    def of(self, show: Show, subject: str = "") -> Places:
        """Return the places of a show's subject."""
        key, version = (show.id, subject, language().code), self._version(show, subject)
        kept = self._last.get(key)
        if kept is not None and kept[0] == version:
            return kept[1]
        places = self._make(show, subject)
        self._last[key] = (version, places)
        return places


class PlaceRenderer:
    """Draws places, each different one once in each language."""

    def __init__(self, environment: Environment, kept: int = 2000) -> None:
        self._environment = environment
        self._kept = lru_cache(maxsize=kept)(self._drawn_in)

    def changed(self, before: Places, after: Places) -> dict[str, str]:
        """Draw what differs; a container comes with empty shells, for children to be moved or put into."""
        stood_in, stands_in = _containers(before), _containers(after)
        return {
            place_id: self._draw(place_id, place, ())
            for place_id, place in after.items()
            if before.get(place_id) != place or stood_in.get(place_id) != stands_in.get(place_id)
        }

    def everything(self, places: Places) -> dict[str, str]:
        """Draw all places that stand in no other, children inside."""
        within = {child for place in places.values() for child in place.children}
        return {place_id: self._whole(place_id, places) for place_id in places if place_id not in within}

    def _whole(self, place_id: str, places: Places) -> str:
        place = places[place_id]
        inner = tuple((child, self._whole(child, places)) for child in place.children if child in places)
        if not inner:
            return self._draw(place_id, place, ())
        return self._drawn(place_id, place, inner)

    def _draw(self, place_id: str, place: Place, inner: tuple[tuple[str, str], ...]) -> str:
        return self._kept(language().code, place_id, place, inner)

    def _drawn_in(
        self, _language: str, place_id: str, place: Place, inner: tuple[tuple[str, str], ...]
    ) -> str:
        return self._drawn(place_id, place, inner)

    def _drawn(self, place_id: str, place: Place, inner: tuple[tuple[str, str], ...]) -> str:
        template = self._environment.get_template(place.template)
        return template.render(
            place=place_id, view=place.view, children=place.children, inner=dict(inner)
        ).strip()


def _containers(places: Places) -> Mapping[str, str]:
    """Return in which container each child stands: what moves to another is drawn anew there."""
    return {child: place_id for place_id, place in places.items() for child in place.children}
