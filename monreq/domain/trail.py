"""The trail of one request: what was asked and where it stands, read from the events about it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from monreq.domain import events as e
from monreq.domain.decisions import Decision
from monreq.domain.requests import Call, Outcome, RequestState, RowKey
from monreq.domain.show import Show


@dataclass(frozen=True, slots=True)
class Trail:
    """One request from its asking to now.

    Attributes:
        amount: The change asked for, in the unit of the kind.
        asked_at_ms: When it was asked. [ms since 1970, UTC]
        state: Where it stands; after an undo it waits again.
        done: How far the hand went for its whole row, in the unit of the kind; None where nothing was moved. A
            musician reads it without what made up for a preamp.
        reason: Why, as a reason's code or free words; empty if none was given.
        decision: The standing decision that answered it or set it aside.
    """

    request: str
    key: RowKey
    musician: str
    amount: int
    words: str
    call: Call | None
    asked_at_ms: int
    state: RequestState = RequestState.WAITING
    done: int | None = None
    reason: str = ""
    decision: str | None = None


def trail(show: Show, request: str, log: Iterable[e.Recorded]) -> Trail | None:
    """Follow a request through the events about it, in order, as far as a state of its show has come.

    Returns:
        None if it was never asked.
    """
    known: Trail | None = None
    for recorded in log:
        if recorded.revision > show.revision:
            break
        known = _begun(request, recorded) if known is None else _followed(show, known, recorded.event)
    return known


def _begun(request: str, recorded: e.Recorded) -> Trail | None:
    event = recorded.event
    if not isinstance(event, e.ChangeAsked) or event.request != request:
        return None
    key = RowKey(event.mix, event.source, event.kind)
    return Trail(request, key, event.musician, event.amount, event.words, event.call, recorded.at_ms)


def _followed(show: Show, known: Trail, event: e.Event) -> Trail:
    match event:
        case e.RequestsCancelledOut(requests=requests) if known.request in requests:
            return _left(known, RequestState.CANCELLED_OUT)
        case e.RequestWithdrawn(request=known.request):
            return _left(known, RequestState.WITHDRAWN)
        case e.RequestsAnswered(requests=requests) if known.request in requests:
            return _answered(known, show.decisions[event.decision])
        case e.DecisionUndone(requests=requests) if known.request in requests:
            return _left(known, RequestState.WAITING)
        case _:
            return known


def _left(known: Trail, state: RequestState) -> Trail:
    """Return it in a state that no decision stands for."""
    return replace(known, state=state, done=None, reason="", decision=None)


def _answered(known: Trail, decision: Decision) -> Trail:
    own = next(request for request in decision.requests if request.id == known.request)
    done = decision.done if own.group else decision.done_for_musicians
    return replace(
        known,
        state=decision.state_of(own),
        done=done if decision.outcome is Outcome.DONE else None,
        reason=decision.reason,
        decision=decision.id,
    )
