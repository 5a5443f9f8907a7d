"""How requests, their answers and what hands did change the state."""

from collections.abc import Mapping
from dataclasses import replace

from monreq.domain import events as e
from monreq.domain import fold_hearing, fold_songs
from monreq.domain.decisions import Decision
from monreq.domain.levels import Position
from monreq.domain.requests import Move, Outcome, Request, RowKey
from monreq.domain.show import Show, without


def change_asked(show: Show, event: e.ChangeAsked, recorded: e.Recorded) -> Show:
    """Let a request wait; what was to be heard of its row before is moot."""
    request = Request(
        id=event.request,
        key=RowKey(event.mix, event.source, event.kind),
        musician=event.musician,
        amount=event.amount,
        words=event.words,
        call=event.call,
        at_ms=recorded.at_ms,
        client_id=event.client_id,
        group=event.group,
        target=event.target,
    )
    show = replace(show, open_requests={**show.open_requests, request.id: request})
    return fold_hearing.moot(show, request.key)


def requests_cancelled_out(show: Show, event: e.RequestsCancelledOut, _: e.Recorded) -> Show:
    """Take what came to nothing out of the queue."""
    return _closed(show, event.requests)


def request_withdrawn(show: Show, event: e.RequestWithdrawn, _: e.Recorded) -> Show:
    """Take a request back."""
    return _closed(show, (event.request,))


def _closed(show: Show, requests: tuple[str, ...]) -> Show:
    return replace(
        show, open_requests=without(show.open_requests, requests), closed=show.closed.union(requests)
    )


def requests_answered(show: Show, event: e.RequestsAnswered, recorded: e.Recorded) -> Show:
    """Answer requests, and move what the hand moved."""
    decision = Decision(
        id=event.decision,
        key=RowKey(event.mix, event.source, event.kind),
        outcome=event.outcome,
        requests=tuple(show.open_requests[request] for request in event.requests),
        asked=event.asked,
        move=event.move,
        reason=event.reason,
        at_ms=recorded.at_ms,
        by=recorded.by,
        way=event.way,
        also=event.also,
        desk=event.desk,
    )
    show = replace(show, decisions={**show.decisions, decision.id: decision})
    if event.outcome is Outcome.SET_ASIDE:
        aside = {one.id: replace(one, is_set_aside=True) for one in decision.requests}
        return replace(show, open_requests={**show.open_requests, **aside})
    latest = {decision.key: decision.id} if decision.is_for_musicians else {}
    show = replace(_closed(show, event.requests), latest={**show.latest, **latest})
    return fold_hearing.answered(_all_moved(show, event, recorded), decision)


def decision_undone(show: Show, event: e.DecisionUndone, recorded: e.Recorded) -> Show:
    """Take a decision back, and its moves."""
    decision = replace(show.decisions[event.decision], is_undone=True)
    decisions = {**show.decisions, decision.id: decision}
    back = {one.id: replace(one, is_set_aside=False) for one in decision.requests if one.id in event.requests}
    show = replace(
        show,
        decisions=decisions,
        open_requests=_in_order_of_asking({**show.open_requests, **back}),
        closed=show.closed.difference(back),
        latest={**without(show.latest, [decision.key]), **_latest_answer(decisions, decision.key)},
    )
    return fold_hearing.moot(_all_moved(show, event, recorded), decision.key)


def _latest_answer(decisions: Mapping[str, Decision], key: RowKey) -> Mapping[RowKey, str]:
    """Return the decision that answered musicians in a row last and still stands, as an entry; empty if none does."""
    answers = [one for one in decisions.values() if one.key == key and one.outcome is not Outcome.SET_ASIDE]
    standing = [answer.id for answer in answers if answer.is_for_musicians and not answer.is_undone]
    return {key: standing[-1]} if standing else {}


def _in_order_of_asking(requests: Mapping[str, Request]) -> Mapping[str, Request]:
    return dict(sorted(requests.items(), key=lambda item: int(item[0][1:])))


def level_corrected(show: Show, event: e.LevelCorrected, recorded: e.Recorded) -> Show:
    """Enter what stands on the desk."""
    return _moved(show, event.move, recorded, counts_as_done=False)


def _all_moved(show: Show, event: e.RequestsAnswered | e.DecisionUndone, recorded: e.Recorded) -> Show:
    for move in (event.move, *event.also):
        show = _moved(show, move, recorded, counts_as_done=True)
    return show


def _moved(show: Show, move: Move | None, recorded: e.Recorded, *, counts_as_done: bool) -> Show:
    if move is None:
        return show
    levels = show.levels[move.mix]
    old = levels.at(move.source)
    done = move.after.level_tenths - move.before.level_tenths if counts_as_done else 0
    position = Position(
        setting=move.after,
        confirmed_at_ms=recorded.at_ms,
        done_tenths=(old.done_tenths if old else 0) + done,
        entered_at=_entered_at(old, move, recorded, counts_as_done=counts_as_done),
    )
    show = replace(show, levels={**show.levels, move.mix: levels.with_position(move.source, position)})
    return fold_songs.towards_targets(show, move.mix, move.source)


def _entered_at(old: Position | None, move: Move, recorded: e.Recorded, *, counts_as_done: bool) -> int:
    if old is None:
        return recorded.revision
    return old.entered_at if counts_as_done else old.entered(move.after.level_tenths, recorded.revision)
