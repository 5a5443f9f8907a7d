"""What was measured on stage or turned at a preamp, and what that puts into the queue."""

from monreq.domain import measuring_commands as c
from monreq.domain import plausible
from monreq.domain.events import DESK, ChangeAsked, Event, RequestsCancelledOut, RequestWithdrawn
from monreq.domain.levels import Position
from monreq.domain.measuring_events import (
    MarginRead,
    MarginsMadeStale,
    OpenMicsCounted,
    PreampChangeDropped,
    PreampChangePlanned,
    PreampMoved,
)
from monreq.domain.preamp_refusals import (
    PreampChangePlannedAlready,
    PreampMovedAlready,
    PreampNotCompensated,
    UnknownPreampChange,
)
from monreq.domain.put_back import SET_SINCE, Left, group_of, put_back
from monreq.domain.readings import PreampChange
from monreq.domain.refusals import (
    ChangeTooLarge,
    NoChange,
    NoMarginHere,
    OutsideRange,
    UnknownSource,
    WordsRequired,
)
from monreq.domain.requests import Kind, Request, RowKey
from monreq.domain.setup import Output
from monreq.domain.show import Show
from monreq.domain.texts import clean_words

LARGEST_MARGIN_TENTHS = 400  # chosen: a mic that can be raised further is no danger in this wedge
LARGEST_PREAMP_TENTHS = 300  # chosen: more than this is another input, not a change of gain


def read_margin(show: Show, command: c.ReadMargin) -> tuple[Event, ...]:
    """Enter a feedback margin as it was read."""
    position = show.position(command.mix, command.source)
    is_wedge = show.mix(command.mix).output is Output.WEDGE
    is_heard = position.setting.is_on and show.levels[command.mix].output.setting.is_on
    if not (is_wedge and is_heard and show.sources[command.source].can_ring):
        raise NoMarginHere
    if not 0 <= command.margin_tenths <= LARGEST_MARGIN_TENTHS:
        raise OutsideRange("A feedback margin goes from 0 to 40 dB.")
    plausible.open_mics(command.open_mics)
    return (MarginRead(command.mix, command.source, command.margin_tenths, command.open_mics),)


def make_margins_stale(show: Show, command: c.MakeMarginsStale) -> tuple[Event, ...]:
    """Say that a mix's readings do not hold any more."""
    show.mix(command.mix)
    because = clean_words(command.because)
    if not because:
        raise WordsRequired("Say in words what changed.")
    if all(place[0] != command.mix for place in show.readings):
        return ()
    return (MarginsMadeStale(command.mix, because),)


def count_open_mics(show: Show, command: c.CountOpenMics) -> tuple[Event, ...]:
    """Say how many mics are open now."""
    plausible.open_mics(command.open_mics)
    return () if show.open_mics == command.open_mics else (OpenMicsCounted(command.open_mics),)


def plan_preamp_change(show: Show, command: c.PlanPreampChange) -> tuple[Event, ...]:
    """Plan a change of gain. Before it goes up, each mix that hears the source gets a compensating row."""
    if command.source not in show.sources:
        raise UnknownSource
    if command.change_tenths == 0:
        raise NoChange
    if abs(command.change_tenths) > LARGEST_PREAMP_TENTHS:
        raise ChangeTooLarge("A preamp change is at most 30 dB.")
    if any(one.source == command.source and not one.is_moved for one in show.preamp_changes.values()):
        raise PreampChangePlannedAlready
    planned = PreampChange(f"p{show.revision + 1}", command.source, command.change_tenths)
    asks = _compensating(show, planned) if planned.change_tenths > 0 else []
    return (PreampChangePlanned(planned.id, planned.source, planned.change_tenths), *asks)


def confirm_preamp(show: Show, command: c.ConfirmPreamp) -> tuple[Event, ...]:
    """Say that the gain was turned. After it went down, each mix that hears the source gets a compensating row."""
    planned = _known(show, command.change)
    if planned.is_moved:
        return ()
    waiting = _waiting_for(show, planned)
    if planned.change_tenths > 0 and waiting and not command.though_rows_wait:
        open_in = dict.fromkeys(show.mix(one.key.mix).name for one in waiting)
        raise PreampNotCompensated(mixes=", ".join(open_in))
    asks = _compensating(show, planned) if planned.change_tenths < 0 else []
    return (PreampMoved(planned.id), *asks, *_compensated_twice(show, planned, asks))


def drop_preamp_change(show: Show, command: c.DropPreampChange) -> tuple[Event, ...]:
    """Give up a planned change of gain, and what waits for it; what was lowered for it is to be put back.

    What was lowered before a hand set the send is told, and settled at once.
    """
    planned = _known(show, command.change)
    if planned.is_moved:
        raise PreampMovedAlready
    withdrawn = [RequestWithdrawn(one.key.mix, one.id) for one in _waiting_for(show, planned)]
    lowered, settled = (
        [
            Left(RowKey(mix, planned.source, Kind.LEVEL), -down, group_of(planned.id))
            for mix, down in _compensated(show, planned, is_settled=is_settled).items()
            if down < 0
        ]
        for is_settled in (False, True)
    )
    asks = put_back([*lowered, *settled], show.revision + 1 + len(withdrawn))
    return (
        PreampChangeDropped(planned.id),
        *withdrawn,
        *asks,
        *(RequestWithdrawn(one.mix, one.request, SET_SINCE) for one in asks[len(lowered) :]),
    )


def _waiting_for(show: Show, change: PreampChange) -> list[Request]:
    return [one for one in show.open_requests.values() if one.group == change.id]


def _compensated(show: Show, change: PreampChange, *, is_settled: bool) -> dict[str, int]:
    """Return how far each mix that still hears the source was moved to make up for a change. [0.1 dB].

    Args:
        show: The show now.
        change: The change of gain.
        is_settled: Whether to count what was done before a hand last set the send, or else since.
    """
    moved: dict[str, int] = {}
    for decision in show.decisions.values():
        mix = decision.key.mix
        position = show.levels[mix].at(change.source) if mix in show.mixes else None
        if (
            decision.is_undone
            or position is None
            or decision.is_before(position.entered_at) is not is_settled
        ):
            continue
        if done := decision.done_for_group(change.id):
            moved[mix] = moved.get(mix, 0) + done
    return moved


def _known(show: Show, change: str) -> PreampChange:
    if change not in show.preamp_changes:
        raise UnknownPreampChange
    return show.preamp_changes[change]


def _compensating(show: Show, change: PreampChange) -> list[ChangeAsked]:
    """Return what makes up for a change of gain in each mix that hears the source, to follow one other event."""
    hearing = [mix for mix, levels in show.levels.items() if _is_on(levels.at(change.source))]
    return [
        ChangeAsked(
            f"r{show.revision + place}",
            mix,
            change.source,
            Kind.LEVEL,
            DESK,
            -change.change_tenths,
            group=change.id,
        )
        for place, mix in enumerate(hearing, start=2)
    ]


def _compensated_twice(
    show: Show, moved: PreampChange, asks: list[ChangeAsked]
) -> tuple[RequestsCancelledOut, ...]:
    """Let what makes up for gains that were all turned leave the queue where it comes to nothing together."""
    turned = {one.id for one in show.preamp_changes.values() if one.is_moved} | {moved.id}
    waiting: dict[str, dict[str, int]] = {}
    for one in show.open_requests.values():
        if one.group in turned and one.key.source == moved.source:
            waiting.setdefault(one.key.mix, {})[one.id] = one.amount
    for ask in asks:
        waiting.setdefault(ask.mix, {})[ask.request] = ask.amount
    return tuple(
        RequestsCancelledOut(mix, tuple(amounts))
        for mix, amounts in waiting.items()
        if sum(amounts.values()) == 0
    )


def _is_on(position: Position | None) -> bool:
    return position is not None and position.setting.is_on
