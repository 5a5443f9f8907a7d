"""How levels that a mix starts from change the state."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain.band_ids import matched
from monreq.domain.carry_events import BandMatched, LevelsCarried, LevelsPutLow
from monreq.domain.levels import Levels, Position
from monreq.domain.show import Show


def band_matched(show: Show, event: BandMatched, _: e.Recorded) -> Show:
    """Keep what a band's things are here."""
    return replace(show, matched=matched(event))


def levels_planned(show: Show, event: LevelsCarried | LevelsPutLow, recorded: e.Recorded) -> Show:
    """Put a mix where it starts; nobody confirmed it."""
    positions = {
        source: Position(setting, entered_at=recorded.revision) for source, setting in event.settings
    }
    old = show.levels[event.mix]
    sends = {source: position for source, position in positions.items() if source is not None}
    levels = Levels(positions.get(None, old.output), {**old.sends, **sends})
    return replace(show, levels={**show.levels, event.mix: levels})
