"""How events about the desk's auxes and the stage plan change the state."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain import stage_events as s
from monreq.domain.show import Show, without


def desk_described(show: Show, event: s.DeskDescribed, _: e.Recorded) -> Show:
    """Keep what the desk has."""
    return replace(show, desk=event.desk)


def musician_placed(show: Show, event: s.MusicianPlaced, _: e.Recorded) -> Show:
    """Keep where a musician stands, or forget it."""
    others = without(show.standings, [event.musician])
    here = {} if event.standing is None else {event.musician: event.standing}
    return replace(show, standings={**others, **here})


def source_placed(show: Show, event: s.SourcePlaced, _: e.Recorded) -> Show:
    """Keep where a source stands."""
    return replace(show, source_places={**show.source_places, event.source: event.place})


def without_musician(show: Show, musician: str) -> Show:
    """Take a musician off the stage plan; what stood beside them stands nowhere."""
    places = {
        source: replace(place, beside="") if place.beside == musician else place
        for source, place in show.source_places.items()
    }
    return replace(show, standings=without(show.standings, [musician]), source_places=places)


def without_source(show: Show, source: str) -> Show:
    """Take a source off the stage plan."""
    return replace(show, source_places=without(show.source_places, [source]))
