"""What was measured on stage or turned at a preamp, and what that puts into the queue."""

from monreq.domain import measuring_commands as c
from monreq.domain.events import DESK, ChangeAsked, Event
from monreq.domain.measuring_events import (
    MarginRead,
    MarginsMadeStale,
    OpenMicsCounted,
    PreampChangePlanned,
    PreampMoved,
)
from monreq.domain.refusals import (
    ChangeTooLarge,
    NoChange,
    NoMarginHere,
    NoOpenMics,
    OutsideRange,
    UnknownPreampChange,
    UnknownSource,
    WordsRequired,
)
from monreq.domain.requests import Kind
from monreq.domain.setup import Output
from monreq.domain.show import Position, Show
from monreq.domain.texts import clean_words

LARGEST_MARGIN_TENTHS = 400  # chosen: a mic that can be raised further is no danger in this wedge
LARGEST_PREAMP_TENTHS = 300  # chosen: more than this is another input, not a change of gain
MOST_OPEN_MICS = 200


def read_margin(show: Show, command: c.ReadMargin) -> tuple[Event, ...]:
    """Enter a feedback margin as it was read."""
    position = show.position(command.mix, command.source)
    is_wedge = show.mix(command.mix).output is Output.WEDGE
    if not (is_wedge and show.sources[command.source].can_ring and position.setting.is_on):
        raise NoMarginHere
    if not 0 <= command.margin_tenths <= LARGEST_MARGIN_TENTHS:
        raise OutsideRange
    _check_open_mics(command.open_mics)
    return (MarginRead(command.mix, command.source, command.margin_tenths, command.open_mics),)


def make_margins_stale(show: Show, command: c.MakeMarginsStale) -> tuple[Event, ...]:
    """Say that a mix's readings do not hold any more."""
    show.mix(command.mix)
    because = clean_words(command.because)
    if not because:
        raise WordsRequired
    return (MarginsMadeStale(command.mix, because),)


def count_open_mics(show: Show, command: c.CountOpenMics) -> tuple[Event, ...]:
    """Say how many mics are open now."""
    _check_open_mics(command.open_mics)
    return () if show.open_mics == command.open_mics else (OpenMicsCounted(command.open_mics),)


def plan_preamp_change(show: Show, command: c.PlanPreampChange) -> tuple[Event, ...]:
    """Put one compensating row for each mix that hears a source into the queue."""
    if command.source not in show.sources:
        raise UnknownSource
    if command.change_tenths == 0:
        raise NoChange
    if abs(command.change_tenths) > LARGEST_PREAMP_TENTHS:
        raise ChangeTooLarge("A preamp change is at most 30 dB.")
    change = f"p{show.revision + 1}"
    hearing = [mix for mix, levels in show.levels.items() if _is_on(levels.at(command.source))]
    asks = [
        ChangeAsked(
            f"r{show.revision + 1 + place}",
            mix,
            command.source,
            Kind.LEVEL,
            DESK,
            -command.change_tenths,
            group=change,
        )
        for place, mix in enumerate(hearing, start=1)
    ]
    return (PreampChangePlanned(change, command.source, command.change_tenths), *asks)


def confirm_preamp(show: Show, command: c.ConfirmPreamp) -> tuple[Event, ...]:
    """Say that the gain was turned."""
    planned = show.preamp_changes.get(command.change)
    if planned is None:
        raise UnknownPreampChange
    return () if planned.is_moved else (PreampMoved(command.change),)


def _is_on(position: Position | None) -> bool:
    return position is not None and position.setting.is_on


def _check_open_mics(number: int) -> None:
    if not 1 <= number <= MOST_OPEN_MICS:
        raise NoOpenMics
