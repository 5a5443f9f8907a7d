"""How the desk takes a decision back."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from monreq.domain import commands as c
from monreq.domain import guard
from monreq.domain.decide_answering import check_setting
from monreq.domain.decide_asking import cancelling
from monreq.domain.decisions import Decision
from monreq.domain.events import DecisionUndone, Event, RequestWithdrawn
from monreq.domain.group_sends import can_be_asked_for
from monreq.domain.put_back import group_of, left_of, put_back, put_back_by, same_group
from monreq.domain.refusals import (
    AlreadyUndone,
    OutsideRange,
    PanOutOfRange,
    UndoImpossible,
    UndoOutsideRange,
    UnknownDecision,
)
from monreq.domain.requests import Kind, Move, Outcome, Request, RowKey
from monreq.domain.setup import Setting
from monreq.domain.show import Show


def undo(show: Show, command: c.Undo) -> tuple[Event, ...]:
    """Take a decision back: reverse its move, let its requests wait again."""
    decision = show.decisions.get(command.decision)
    if decision is None:
        raise UnknownDecision
    if decision.is_undone:
        raise AlreadyUndone
    if not _is_still_there(show, decision.key):
        raise UndoImpossible
    back = {one.id: one for one in decision.requests if _comes_back(show, decision, one)}
    wanted = tuple(_reversals(show, (decision.move, *decision.also)))
    waiting = {**show.open_requests, **back}
    done = guard.all_within(replace(show, open_requests=waiting), wanted)
    first, also = (done[0], done[1:]) if decision.move is not None and done else (None, done)
    undone = DecisionUndone(decision.id, decision.key.mix, tuple(back), first, also)
    cancelled = cancelling(waiting.values(), decision.key, [one.musician for one in back.values()])
    gone = (undone, *cancelled, *_put_back_twice(show, decision))
    rest = [left for whole, part in zip(wanted, done, strict=True) for left in left_of(whole, part)]
    held_back = put_back(rest, show.revision + len(gone))
    again = put_back(
        put_back_by(decision), show.revision + len(gone) + len(held_back), same_group(decision.requests)
    )
    return (*gone, *held_back, *again)


def _is_still_there(show: Show, key: RowKey) -> bool:
    """Whether what a row stands for can still be asked for: pan only while the mix is stereo."""
    if not can_be_asked_for(show, key):
        return False
    return key.kind is not Kind.PAN or show.mix(key.mix).is_stereo


def _comes_back(show: Show, decision: Decision, request: Request) -> bool:
    """Whether undoing returns this request to waiting.

    Not if it left the queue since, its musician the mix, or the desk gave up what it was planned for.
    """
    if decision.outcome is Outcome.SET_ASIDE:
        return request.id in show.open_requests and show.open_requests[request.id].is_set_aside
    if request.is_put_back:
        return decision.outcome is not Outcome.DONE
    if request.group:
        return request.group in show.preamp_changes or request.group == show.waiting_song_plan
    return request.musician in show.mix(request.key.mix).musicians


def _put_back_twice(show: Show, decision: Decision) -> tuple[RequestWithdrawn, ...]:
    """Return what leaves the queue because the undo itself puts it back: what was lowered for a plan given up since."""
    groups = {
        group_of(one.group)
        for one in decision.requests
        if one.is_for_preamp and decision.done_for_preamp(one.group)
    }
    return tuple(
        RequestWithdrawn(one.key.mix, one.id)
        for one in show.open_requests.values()
        if one.group in groups and one.key == decision.key
    )


def _reversals(show: Show, moves: Iterable[Move | None]) -> Iterator[Move]:
    """Return the opposites of moves, as far as what was moved is still in the mix."""
    return (
        _reversed(show, move)
        for move in moves
        if move is not None and show.levels[move.mix].at(move.source) is not None
    )


def _reversed(show: Show, move: Move) -> Move:
    """Return the opposite move from where things stand now, so that what was done since is kept."""
    now = show.position(move.mix, move.source).setting
    after = Setting(
        now.level_tenths - (move.after.level_tenths - move.before.level_tenths),
        now.pan_percent - (move.after.pan_percent - move.before.pan_percent),
        move.before.is_on if move.after.is_on is not move.before.is_on else now.is_on,
    )
    try:
        check_setting(after, show.settings)
    except (OutsideRange, PanOutOfRange) as beyond:
        raise UndoOutsideRange from beyond
    return Move(move.mix, move.source, now, after)
