"""What taking a band over comes to: planned levels, and several commands as one."""

from collections.abc import Callable
from typing import Any

from monreq.domain import carry_commands as k
from monreq.domain.band_ids import matched
from monreq.domain.carry_events import BandMatched, LevelsCarried
from monreq.domain.carry_refusals import SoundcheckIsOver
from monreq.domain.decide_answering import check_setting
from monreq.domain.events import Event
from monreq.domain.fold import after
from monreq.domain.refusals import NoPanInMono, UnknownSource
from monreq.domain.show import Show
from monreq.domain.texts import checked_id


def carry_levels(show: Show, command: k.CarryLevels) -> tuple[Event, ...]:
    """Let a mix start from a kept one, before the soundcheck mark."""
    mix = show.mix(command.mix)
    if show.mark is not None:
        raise SoundcheckIsOver
    for source, setting in command.settings:
        if source is not None and source not in show.sources:
            raise UnknownSource
        check_setting(setting, show.settings)
        if setting.pan_percent and not mix.is_stereo:
            raise NoPanInMono
    return (LevelsCarried(mix.id, command.settings),) if command.settings else ()


def note_matches(show: Show, command: k.NoteMatches) -> tuple[Event, ...]:
    """Say what the things of a band are here, which songs go by later."""
    event = BandMatched(checked_id(command.band), command.sources, command.mixes)
    return () if matched(event) == show.matched else (event,)


def together(
    show: Show, command: k.DoTogether, decide: Callable[[Show, Any, int], tuple[Event, ...]]
) -> tuple[Event, ...]:
    """Decide commands one after another, each on the state that the one before leaves."""
    events: list[Event] = []
    for one in command.commands:
        decided = decide(show, one, show.at_ms)
        events.extend(decided)
        show = after(show, decided)
    return tuple(events)
