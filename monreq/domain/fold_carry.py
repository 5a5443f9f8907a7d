"""How levels that were carried over change the state."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain.carry_events import LevelsCarried
from monreq.domain.show import Levels, Position, Show


def levels_carried(show: Show, event: LevelsCarried, _: e.Recorded) -> Show:
    """Put a mix where it starts; nobody confirmed it."""
    positions = {source: Position(setting) for source, setting in event.settings}
    old = show.levels[event.mix]
    sends = {source: position for source, position in positions.items() if source is not None}
    levels = Levels(positions.get(None, old.output), {**old.sends, **sends})
    return replace(show, levels={**show.levels, event.mix: levels})
