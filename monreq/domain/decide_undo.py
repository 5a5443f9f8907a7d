"""How the desk takes a decision back."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import count

from monreq.domain import commands as c
from monreq.domain import guard
from monreq.domain.decide_answering import check_setting
from monreq.domain.decide_asking import cancelling
from monreq.domain.decisions import Decision
from monreq.domain.events import DESK, DecisionUndone, Event, RequestWithdrawn
from monreq.domain.group_sends import can_be_asked_for
from monreq.domain.put_back import (
    Left,
    group_of,
    left_of,
    put_back,
    still_down,
    still_in_place,
    waits_as_before,
    wanted_again,
)
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
    wanted = tuple(_reversals(show, decision))
    again = wanted_again(show, decision)
    waiting = {**show.open_requests, **back, **_as_requests(again)}
    done = guard.all_within(replace(show, open_requests=waiting), wanted)
    held_back = [one for whole, part in zip(wanted, done, strict=True) for one in left_of(whole, part)]
    back, again, held_back = _without_what_stays(show, decision.key, back, again, held_back)
    first, also = (done[0], done[1:]) if decision.move is not None and done else (None, done)
    undone = DecisionUndone(decision.id, decision.key.mix, tuple(back), first, also)
    cancelled = cancelling(waiting.values(), decision.key, [one.musician for one in back.values()])
    withdrawn, left = _put_back_twice(show, decision)
    gone = (undone, *cancelled, *withdrawn)
    asked = put_back(held_back, show.revision + len(gone))
    return (*gone, *asked, *put_back([*again, *left], show.revision + len(gone) + len(asked)))


def _without_what_stays(
    show: Show, key: RowKey, back: Mapping[str, Request], again: Sequence[Left], held_back: Sequence[Left]
) -> tuple[dict[str, Request], list[Left], list[Left]]:
    """Return what an undo returns, asks again and holds back, but for what makes up for turned gains and is still in place.

    Were it to be done again, the send would come to stand too low.
    """
    own = [Left(key, one.amount, one.group) for one in back.values() if one.is_for_preamp]
    waits = [*own, *(one for one in again if one.group in show.preamp_changes)]
    stays = still_in_place(show, waits, [one for one in held_back if one.key == key])
    rest = {group: sum(one.amount for one in waits if one.group == group) + stays[group] for group in stays}
    held = [
        one._replace(amount=one.amount - sum(stays.values())) if one.key == key else one for one in held_back
    ]
    return (
        {known: one for known, one in back.items() if one.group not in stays},
        [
            *(one for one in again if one.group not in stays),
            *(Left(key, amount, group) for group, amount in rest.items() if amount),
        ],
        [one for one in held if one.amount],
    )


def _as_requests(asked_again: Iterable[Left]) -> dict[str, Request]:
    """Return what waits again as requests, to look at."""
    ids = (f"r{place}" for place in count(-1, -1))
    return {
        known: Request(known, left.key, DESK, left.amount, "", None, 0, group=left.group)
        for known, left in zip(ids, asked_again, strict=False)
    }


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
    if request.is_for_song:
        return request.group == show.waiting_song_plan
    if request.group:
        is_wanted = request.is_put_back or request.group in show.preamp_changes
        return is_wanted and waits_as_before(show, decision, request)
    return request.musician in show.mix(request.key.mix).musicians


def _put_back_twice(show: Show, decision: Decision) -> tuple[list[RequestWithdrawn], list[Left]]:
    """Return what leaves the queue because the undo itself puts it back, and what is left of it.

    It is what was lowered for a plan given up since.
    """
    withdrawn: list[RequestWithdrawn] = []
    rest: list[Left] = []
    for change in _given_up(show, decision):
        group, down = group_of(change), still_down(show, decision.key, change)
        waiting = [
            one for one in show.open_requests.values() if (one.group, one.key) == (group, decision.key)
        ]
        left = max(0, down + min(0, decision.done_for_group(change)))
        if left < sum(one.amount for one in waiting):
            withdrawn += [RequestWithdrawn(one.key.mix, one.id) for one in waiting]
            rest += [Left(decision.key, left, group)] if left else []
    return withdrawn, rest


def _given_up(show: Show, decision: Decision) -> list[str]:
    """Return the changes of gain that a decision lowered something for and that were given up since."""
    changes = dict.fromkeys(one.group for one in decision.requests if one.is_for_preamp)
    return [one for one in changes if one not in show.preamp_changes and decision.done_for_group(one) < 0]


def _reversals(show: Show, decision: Decision) -> Iterator[Move]:
    """Return the opposites of moves, as far as what was moved is still in the mix.

    What was lowered for a plan given up since, and is up again by now, is not put up twice.
    """
    is_up = sum(
        max(0, -decision.done_for_group(change) - still_down(show, decision.key, change))
        for change in _given_up(show, decision)
    )
    for move in (decision.move, *decision.also):
        if move is not None and show.levels[move.mix].at(move.source) is not None:
            yield _reversed(show, move, is_up if move is decision.move else 0)


def _reversed(show: Show, move: Move, is_up: int) -> Move:
    """Return the opposite move from where things stand now, so that what was done since is kept.

    Args:
        show: The show now.
        move: The move to take back.
        is_up: How much of it was put up again already. [0.1 dB]
    """
    now = show.position(move.mix, move.source).setting
    after = Setting(
        now.level_tenths - (move.after.level_tenths - move.before.level_tenths) - is_up,
        now.pan_percent - (move.after.pan_percent - move.before.pan_percent),
        move.before.is_on if move.after.is_on is not move.before.is_on else now.is_on,
    )
    try:
        check_setting(after, show.settings)
    except (OutsideRange, PanOutOfRange) as beyond:
        raise UndoOutsideRange from beyond
    return Move(move.mix, move.source, now, after)
