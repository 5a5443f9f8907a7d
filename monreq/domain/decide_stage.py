"""What the desk has for monitors, on which auxes mixes are, and who stands where."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from monreq.domain import commands as c
from monreq.domain import decide_setup
from monreq.domain import stage_commands as s
from monreq.domain.events import Event
from monreq.domain.measuring_events import MarginsMadeStale
from monreq.domain.panning import LARGEST_STAGE_M
from monreq.domain.plan_refusals import NoFacing
from monreq.domain.refusals import NoPlaceOnStage, UnknownMusician, UnknownSource
from monreq.domain.show import Show
from monreq.domain.stage_events import DeskDescribed, MusicianPlaced, SourcePlaced
from monreq.domain.stage_plan import SourcePlace, Spot, Standing, spot_of

MOVED = "moved on the stage plan"
FULL_CIRCLE_DEG = 360


def describe_desk(show: Show, command: s.DescribeDesk) -> tuple[Event, ...]:
    """Say what the desk has for monitors."""
    command.desk.for_plan()
    desk = replace(command.desk, taken=tuple(sorted(set(command.desk.taken))))
    return () if desk == show.desk else (DeskDescribed(desk),)


def number_auxes(show: Show, command: s.NumberAuxes) -> tuple[Event, ...]:
    """Put mixes on auxes."""
    mixes = [replace(show.mix(mix), auxes=auxes) for mix, auxes in dict(command.auxes).items()]
    return tuple(event for mix in mixes for event in decide_setup.put_mix(show, c.PutMix(mix)))


def place_on_stage(show: Show, command: s.PlaceOnStage) -> tuple[Event, ...]:
    """Say where musicians and sources stand; a wedge or mic that moved makes the readings with it stale."""
    if not show.musicians.keys() >= dict(command.musicians).keys():
        raise UnknownMusician("There is no such musician in this show.")
    if not show.sources.keys() >= dict(command.sources).keys():
        raise UnknownSource
    standings = {musician: _checked_standing(one) for musician, one in command.musicians}
    places = {source: _checked_place(show, one) for source, one in command.sources}
    return (
        *(
            MusicianPlaced(musician, standing)
            for musician, standing in standings.items()
            if standing != show.standings.get(musician)
        ),
        *(SourcePlaced(source, place) for source, place in places.items() if place != show.place_of(source)),
        *(MarginsMadeStale(mix, MOVED) for mix in dict.fromkeys(_moved(show, standings, places))),
    )


def _moved(
    show: Show, standings: Mapping[str, Standing | None], places: Mapping[str, SourcePlace]
) -> Iterator[str]:
    """Yield the mixes in whose readings a musician or a mic stands elsewhere than it did."""
    known = {**show.standings, **standings}
    after = {musician: standing for musician, standing in known.items() if standing is not None}
    for mix, source in show.readings:
        here, there = (
            spot_of(show.source_places.get(source), show.standings),
            spot_of({**show.source_places, **places}.get(source), after),
        )
        movers = [(show.standings.get(one), after.get(one)) for one in show.mixes[mix].musicians]
        if any(None not in pair and pair[0] != pair[1] for pair in [(here, there), *movers]):
            yield mix


def _checked_standing(standing: Standing | None) -> Standing | None:
    if standing is None:
        return None
    if abs(standing.facing_deg) > FULL_CIRCLE_DEG:
        raise NoFacing
    return Standing(_checked_spot(standing.spot), standing.facing_deg % FULL_CIRCLE_DEG)


def _checked_place(show: Show, place: SourcePlace) -> SourcePlace:
    if place.beside:
        if place.beside not in show.musicians:
            raise UnknownMusician("There is no such musician in this show.")
        return replace(place, spot=None)
    return place if place.spot is None else replace(place, spot=_checked_spot(place.spot))


def _checked_spot(spot: Spot) -> Spot:
    if not all(abs(cm) <= LARGEST_STAGE_M * 100 for cm in (spot.x_cm, spot.y_cm)):
        raise NoPlaceOnStage
    return spot
