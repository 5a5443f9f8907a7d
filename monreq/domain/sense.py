"""Whether what was typed makes sense: doubts about it, to be asked about once before it is recorded.

A doubt refuses nothing for good. What a hand did is recorded as it was, once somebody looked at the figure again.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from monreq.domain import guard
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.events import Event, LevelCorrected, RequestsAnswered, SendPut
from monreq.domain.fold import after
from monreq.domain.refusals import NotLikeThis
from monreq.domain.requests import Call, Kind, Move, moved
from monreq.domain.show import Show
from monreq.domain.suggest import disagree, most_pressing
from monreq.domain.unusual import ShowsBefore, unusual

JUMP_TENTHS = 100  # chosen: twice as loud, or half; what is done for a musician in one go is less than that


class DoubtCode(StrEnum):
    """Why something that was typed makes little sense."""

    AGAINST_ASKED = "against_asked"
    LOUDER_AT_CALL = "louder_at_call"
    INTO_RESERVE = "into_reserve"
    AFTER_SQUEAL = "after_squeal"
    AFTER_HURTS = "after_hurts"
    PAST_EVENING = "past_evening"
    DAY_FULL = "day_full"
    NO_TIME = "no_time"
    JUMP = "jump"
    UNUSUAL = "unusual"


@dataclass(frozen=True, slots=True)
class Doubt:
    """One doubt.

    Attributes:
        source: Which send, or group, it is about; None is the output.
        kind: The kind of row that its figures are in the unit of.
        typed: The change that was typed, where the doubt is about it.
        figure: What was asked; the margin that is left; how far above the usual it stands. [0.1 dB] but for the first.
        shows: From how many shows the usual was told.
        call: The call that is open.
    """

    code: DoubtCode
    mix: str
    source: str | None
    kind: Kind = Kind.LEVEL
    typed: int = 0
    figure: int = 0
    shows: int = 0
    call: Call | None = None

    @property
    def name(self) -> str:
        """What tells it from others: the figures in it may change while somebody looks at it."""
        return f"{self.code}.{self.source or ''}"


class MakesLittleSense(NotLikeThis):
    """What was typed makes little sense. The same again confirms it."""

    def __init__(self, doubts: tuple[Doubt, ...]) -> None:
        """Take what there is to doubt."""
        super().__init__()
        self.doubts = doubts


_CROSSED = {
    CautionCode.AFTER_SQUEAL: DoubtCode.AFTER_SQUEAL,
    CautionCode.AFTER_HURTS: DoubtCode.AFTER_HURTS,
    CautionCode.EVENING_LIMIT: DoubtCode.PAST_EVENING,
    CautionCode.DOSE_FULL: DoubtCode.DAY_FULL,
    CautionCode.NO_TIME_ABOVE: DoubtCode.NO_TIME,
}


def doubts(show: Show, events: Sequence[Event], before: ShowsBefore = ()) -> tuple[Doubt, ...]:
    """Return what speaks against something typed, gravest first.

    Args:
        show: The state on which it was decided.
        events: What it comes to.
        before: How the mixes stood in shows before.
    """
    then = after(show, events)
    moves = [move for event in events for move in _moves(show, event) if move.after != move.before]
    return (
        *(doubt for event in events if isinstance(event, RequestsAnswered) for doubt in _askew(show, event)),
        *_crossing(then, moves),
        *(doubt for move in moves for doubt in _panned(show, move)),
        *(doubt for event in events for doubt in _jumps(show, event)),
        *(doubt for move in moves for doubt in _unusual(show, then, move, before)),
    )


def _moves(show: Show, event: Event) -> tuple[Move, ...]:
    match event:
        case RequestsAnswered(move=move, also=also):
            return (*(() if move is None else (move,)), *also)
        case LevelCorrected(move=move):
            return (move,)
        case SendPut(mix=mix, source=source, setting=setting):
            return (Move(mix, source, show.position(mix, source).setting, setting),)
        case _:
            return ()


def _askew(show: Show, event: RequestsAnswered) -> Iterator[Doubt]:
    """Yield a doubt where an answer goes the other way than was asked; where musicians disagree, none does."""
    changes = [moved(event.kind, move) or 0 for move in _moves(show, event)]
    typed = max(changes, key=abs, default=0)
    requests = [show.open_requests[one] for one in event.requests]
    call = most_pressing(requests)
    if call in (Call.HURTS, Call.SQUEAL) and typed > 0:
        yield Doubt(DoubtCode.LOUDER_AT_CALL, event.mix, event.source, typed=typed, call=call)
    if event.asked * typed < 0 and not disagree(requests):
        yield Doubt(DoubtCode.AGAINST_ASKED, event.mix, event.source, event.kind, typed, event.asked)


def _crossing(then: Show, moves: Sequence[Move]) -> Iterator[Doubt]:
    """Yield a doubt for each mix in which what was raised came past a bound that is not to be crossed in passing."""
    for mix in dict.fromkeys(move.mix for move in moves):
        up = [move for move in moves if move.mix == mix and _is_up(move)]
        raised = None if any(move.source is None for move in up) else [move.source or "" for move in up]
        only_came_in = not any(move.before.is_on for move in up)
        crossed = guard.crossed(then, mix, raised, only_came_in=only_came_in) if up else None
        if crossed is not None:
            code = _CROSSED.get(crossed.code, DoubtCode.INTO_RESERVE)
            yield Doubt(code, mix, _past(crossed, up), figure=crossed.margin_tenths or 0)


def _panned(show: Show, move: Move) -> Iterator[Doubt]:
    """Yield a doubt where a pan gives an ear more than is advised, however far one goes in one trip."""
    if move.source is None or not move.after.is_on or move.after.pan_percent == move.before.pan_percent:
        return
    crossed = guard.panned(show, move.mix, move.source, move.after.pan_percent)
    if crossed is not None and crossed.code in _CROSSED:
        yield Doubt(_CROSSED[crossed.code], move.mix, move.source)


def _past(crossed: Caution, up: Sequence[Move]) -> str | None:
    """Return which send stands past a bound; what hurt is the mix."""
    is_of_one = crossed.source and crossed.code is not CautionCode.AFTER_HURTS
    return crossed.source if is_of_one else up[0].source if len(up) == 1 else None


def _jumps(show: Show, event: Event) -> Iterator[Doubt]:
    """Yield a doubt where what somebody confirmed jumps; down at a call is no jump but what is called for."""
    heard = [one for one in _moves(show, event) if one.after.is_on and _was_heard(show, one)]
    changes = {one.source: one.after.level_tenths - one.before.level_tenths for one in heard}
    source = max(changes, key=lambda one: abs(changes[one]), default=None)
    change = changes.get(source, 0)
    answer = event if isinstance(event, RequestsAnswered) else None
    is_called_for = answer is not None and answer.kind is Kind.CALL and change < 0
    if abs(change) > JUMP_TENTHS and not is_called_for:
        yield Doubt(DoubtCode.JUMP, heard[0].mix, answer.source if answer else source, typed=change)


def _unusual(show: Show, then: Show, move: Move, before: ShowsBefore) -> Iterator[Doubt]:
    """Yield a doubt where a send is unusual now; a step back from there is none."""
    found = unusual(then, before, move.mix, move.source) if move.source and move.after.is_on else None
    if found is None:
        return
    change = move.after.level_tenths - move.before.level_tenths
    if not _was_heard(show, move) or change * found.tenths > 0:
        yield Doubt(DoubtCode.UNUSUAL, move.mix, move.source, figure=found.tenths, shows=found.shows)


def _is_up(move: Move) -> bool:
    is_louder = move.after.level_tenths > move.before.level_tenths or not move.before.is_on
    return move.after.is_on and is_louder


def _was_heard(show: Show, move: Move) -> bool:
    """Whether a move begins where somebody confirmed the level; what a send starts with is only planned."""
    return move.before.is_on and show.position(move.mix, move.source).confirmed_at_ms is not None
