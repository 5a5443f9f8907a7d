"""The stage plan in numbers on Prepare: where musicians stand and face, where sources stand."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from flask import Blueprint, request
from flask.typing import ResponseReturnValue

from monreq.domain import stage_commands as s
from monreq.domain.refusals import NotLikeThis
from monreq.domain.show import Show
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from monreq.domain.stage_spread import spread
from monreq.web.context import web
from monreq.web.forms import ConfirmForm, LevelsForm
from monreq.web.preparing import prepared
from monreq.web.speech import refusal_said
from monreq.web.typed import UnreadablePlace, metres, read_degrees, read_metres

blueprint = Blueprint("stage", __name__, url_prefix="/desk/prepare/stage")

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class PlaceView:
    """A musician or source on the stage plan, as it is typed.

    Attributes:
        field: The beginning of its fields' names.
        beside: The musician whose a source is; empty if it has its own place.
    """

    field: str
    name: str
    x: str
    y: str
    facing: str = ""
    beside: str = ""
    is_central: bool = False


@blueprint.post("")
def place_on_stage() -> ResponseReturnValue:
    """Take the places that were typed over."""
    form = LevelsForm()
    return prepared(form, lambda show: _typed_over(form, show), "stage")


@blueprint.post("/spread")
def spread_over_stage() -> ResponseReturnValue:
    """Put everybody who stands nowhere yet on stage, to be moved from there."""
    return prepared(ConfirmForm(), lambda show: s.PlaceOnStage(tuple(spread(show).items())), "stage")


def musician_places(show: Show) -> list[PlaceView]:
    """Return the lines of the musicians."""
    return [
        _musician(f"musician-{one.id}", one.name, show.standings.get(one.id))
        for one in show.musicians.values()
    ]


def source_places(show: Show) -> list[PlaceView]:
    """Return the lines of the sources."""
    return [_source(f"source-{one.id}", one.name, show.place_of(one.id)) for one in show.sources.values()]


def _musician(field: str, name: str, standing: Standing | None) -> PlaceView:
    if standing is None:
        return PlaceView(field, name, "", "")
    return PlaceView(field, name, *_shown(standing.spot), facing=str(standing.facing_deg))


def _source(field: str, name: str, place: SourcePlace) -> PlaceView:
    return PlaceView(field, name, *_shown(place.spot), beside=place.beside, is_central=place.is_central)


def _shown(spot: Spot | None) -> tuple[str, str]:
    return ("", "") if spot is None else (metres(spot.x_cm), metres(spot.y_cm))


def _typed_over(form: LevelsForm, show: Show) -> s.PlaceOnStage:
    """Return what differs from what the page showed; whatever else was placed meanwhile stays so."""
    seen = web().shows.at(show.id, int(form.seen.data or ""))
    return s.PlaceOnStage(tuple(_musicians_moved(seen)), tuple(_sources_moved(seen)))


def _musicians_moved(seen: Show) -> Iterator[tuple[str, Standing | None]]:
    for musician, view in zip(seen.musicians, musician_places(seen), strict=True):
        spot = _spot(view)
        typed = None if spot is None else Standing(spot, _read(view, "facing", view.facing, read_degrees))
        if typed != seen.standings.get(musician):
            yield musician, typed


def _sources_moved(seen: Show) -> Iterator[tuple[str, SourcePlace]]:
    for source, view in zip(seen.sources, source_places(seen), strict=True):
        beside = request.form.get(f"{view.field}-beside", view.beside)
        typed = SourcePlace(None if beside else _spot(view), beside, f"{view.field}-central" in request.form)
        if typed != seen.place_of(source):
            yield source, typed


def _spot(view: PlaceView) -> Spot | None:
    x, y = _read(view, "x", view.x, read_metres), _read(view, "y", view.y, read_metres)
    if x is None and y is None:
        return None
    if x is None or y is None:
        raise UnreadablePlace("%(name)s: a place has two figures: type both, or neither.", name=view.name)
    return Spot(x, y)


def _read(view: PlaceView, figure: str, shown: str, read: Callable[[str], Value]) -> Value:
    try:
        return read(request.form.get(f"{view.field}-{figure}", shown))
    except NotLikeThis as unreadable:
        raise type(unreadable)(
            "%(name)s: %(sentence)s", name=view.name, sentence=refusal_said(unreadable)
        ) from unreadable
