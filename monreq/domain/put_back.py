"""What the desk itself has waiting: what is to be put back after an undo or a plan given up, and what makes up for a preamp.

Putting something back is a raise like any other. What the guard holds back of it waits in the queue, so that it is not
forgotten, and is suggested like what a musician asks. Of what was done in part the rest waits on, of a preamp's row as of
one that puts something back; only *not done* gives it up, and where others ask in the same row, theirs alone.

What a hand enters as it stands on the desk says where things are from now on:

- What is to be put back is about where it stood. Once its place was set by hand that is over: it leaves the queue, and the
  history says why. Were it to stay, it would go up on top of what the hand did.
- What is still to go up for a gain that was turned down becomes less by as much as the hand went up, for that may have been
  it, and no raise is to be made twice.
- What is still to go down for a gain stays, for nobody knows whether the hand had it in mind. The row says so. Done twice
  it leaves a source too quiet; not done at all, it comes up with the gain.
- What an answer to a call turned down is not put back up either: that would undo the answer. It stays over when the answer
  is undone, for the call waits then.

What an undo may not put up again of what makes up for a gain that was turned is neither put back nor done again: it is still
in place.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from monreq.domain.carry_events import LevelsCarried, LevelsPutLow
from monreq.domain.decisions import Decision
from monreq.domain.events import (
    DESK,
    ChangeAsked,
    DecisionUndone,
    Event,
    LevelCorrected,
    RequestsAnswered,
    RequestsCancelledOut,
    RequestWithdrawn,
    SendPut,
)
from monreq.domain.removals import REMOVED
from monreq.domain.requests import PUT_BACK, Kind, Move, Outcome, Request, RowKey
from monreq.domain.setup import Setting
from monreq.domain.show import Show

SET_SINCE = "set_since"
"""Why something is not to be put back any more: a hand set its place since."""


class Left(NamedTuple):
    """What is left to do in a row, in the unit of its kind, and for what; the group is empty where it is one of its own."""

    key: RowKey
    amount: int
    group: str = ""


def group_of(what: object) -> str:
    """Return the group of what is put back for an undo, by the revision that it follows, or for a plan, by its id."""
    return f"{PUT_BACK}{what}"


def put_back(left: Iterable[Left], revision: int) -> tuple[ChangeAsked, ...]:
    """Return the requests for what is left.

    Args:
        left: What is left, by row.
        revision: Of the event that they follow; their ids count on from it.
    """
    return tuple(
        ChangeAsked(
            f"r{revision + place}",
            one.key.mix,
            one.key.source,
            one.key.kind,
            DESK,
            one.amount,
            group=one.group or group_of(revision),
        )
        for place, one in enumerate(left, start=1)
    )


def left_of(whole: Move, part: Move) -> list[Left]:
    """Return what is left of a move that was made in part: up, in, or aside."""
    if whole.after.is_on and not part.after.is_on:
        return [Left(RowKey(whole.mix, whole.source, Kind.IN_OUT), 1)]
    up = whole.after.level_tenths - part.after.level_tenths
    aside = whole.after.pan_percent - part.after.pan_percent
    level = [Left(RowKey(whole.mix, whole.source, Kind.LEVEL), up)] if up > 0 else []
    return level + ([Left(RowKey(whole.mix, whole.source, Kind.PAN), aside)] if aside else [])


def still_in_place(show: Show, again: Iterable[Left], held_back: Iterable[Left]) -> dict[str, int]:
    """Return what an undo leaves in place of what makes up for each turned gain, because it may not put it up. [0.1 dB].

    Args:
        show: The show before the undo.
        again: What is to be done again in the row of the answer that is undone.
        held_back: What may not be put up again there.
    """
    up = sum(one.amount for one in held_back)
    stays: dict[str, int] = {}
    for one in again:
        change = show.preamp_changes.get(one.group)
        part = min(up, -one.amount) if change is not None and change.is_moved else 0
        if part > 0:
            up -= part
            stays[one.group] = stays.get(one.group, 0) + part
    return stays


def left_of_answer(answered: Decision) -> list[Left]:
    """Return what an answer leaves of what the desk itself had waiting in its row."""
    if answered.outcome is Outcome.NOT_DONE:
        return _by_group(answered.key, {one: one.amount for one in kept_by_not_done(answered.requests)})
    if answered.outcome is not Outcome.DONE or answered.done is None:
        return []
    return _by_group(answered.key, {one: one.amount - answered.got(one) for one in _own(answered.requests)})


def kept_by_not_done(requests: Sequence[Request]) -> list[Request]:
    """Return which requests of a row *not done* leaves waiting: it gives up what others ask, else what is put back.

    Only alone is what the desk itself has waiting given up.
    """
    own = _own(requests)
    if len(own) < len(requests):
        return own
    compensating = [one for one in own if one.is_for_preamp]
    return compensating if len(compensating) < len(own) else []


def wanted_again(show: Show, undone: Decision) -> list[Left]:
    """Return what the desk itself has waiting again once an answer is undone: as much as was done for it.

    What was done in part waits for the rest already. What was done whole for a preamp waits again as it did.
    """
    done = {one: undone.got(one) for one in _own(undone.requests) if not waits_as_before(show, undone, one)}
    return [
        left
        for left in _by_group(undone.key, done)
        if left.group.startswith(PUT_BACK) or left.group in show.preamp_changes
    ]


def waits_as_before(show: Show, undone: Decision, request: Request) -> bool:
    """Whether a request of the desk's own is open again as it was once its answer is undone.

    Not if it waits already, nor if what was given up is settled since.
    """
    if undone.outcome is not Outcome.NOT_DONE:
        return request.is_for_preamp and undone.got(request) == request.amount
    return request not in kept_by_not_done(undone.requests) and not _is_settled(show, undone, request)


def _is_settled(show: Show, given_up: Decision, request: Request) -> bool:
    """Whether nothing is to be put back, or to go up for a preamp, any more: its place was set by hand, or came in."""
    position = show.levels[request.key.mix].at(request.key.source)
    if position is None:
        return True
    match request.key.kind:
        case Kind.LEVEL:
            is_set = request.amount > 0 and given_up.is_before(position.entered_at)
            return is_set or _is_up_again(show, request)
        case Kind.IN_OUT:
            return position.setting.is_on
        case _:
            return given_up.reason == REMOVED


def _is_up_again(show: Show, request: Request) -> bool:
    """Whether an undo has put up already what was to be put back for a gain that was given up."""
    change = request.group.removeprefix(PUT_BACK)
    if not request.is_put_back or change.isdecimal():
        return False
    waiting = waiting_for(show, request.key, request.group)
    return still_down(show, request.key, change) < waiting + request.amount


def still_down(show: Show, key: RowKey, change: str) -> int:
    """Return how far a send is still down for a change of gain that was given up, and no hand set it since. [0.1 dB].

    That is at least what waits to be put back.
    """
    position = show.levels[key.mix].at(key.source)
    since = [
        one
        for one in show.decisions.values()
        if one.key == key and not one.is_undone and position and not one.is_before(position.entered_at)
    ]
    lowered = -sum(one.done_for_group(change) for one in since)
    back = sum(one.done_for_group(group_of(change)) for one in since)
    return max(lowered - back, waiting_for(show, key, group_of(change)))


def waiting_for(show: Show, key: RowKey, group: str) -> int:
    """Return what waits in a row for one thing, in the unit of its kind."""
    return sum(one.amount for one in show.open_requests.values() if (one.key, one.group) == (key, group))


def settled(show: Show, events: Sequence[Event]) -> tuple[Event, ...]:
    """Return what leaves the queue because hands set its place, and what is left of it then; to follow some events.

    See above for what does. What is to come in is settled by whatever brings it in.
    """
    closed = set(_closed_by(events))
    waiting = [one for one in _own(show.open_requests.values()) if one.id not in closed]
    gone: list[Event] = []
    left: list[Left] = []
    for mix, source, setting in _set_by_hand(events) if waiting else ():
        position = show.levels[mix].at(source) if mix in show.levels else None
        for one in waiting if position else ():
            if one.key[:2] == (mix, source) and position and one.id not in closed:
                rest = _after_hand(one, position.setting, setting)
                if rest != one.amount:
                    closed.add(one.id)
                    gone.append(RequestWithdrawn(mix, one.id, SET_SINCE))
                    left += [Left(one.key, rest, one.group)] if rest else []
    for key in _turned_down_at_calls(events) if waiting else ():
        over = [one for one in waiting if one.is_put_back and one.key == key and one.id not in closed]
        closed.update(one.id for one in over)
        gone += [RequestWithdrawn(key.mix, one.id, SET_SINCE) for one in over]
    for mix, source in _brought_in(events) if waiting else ():
        came = [one for one in waiting if one.key == (mix, source, Kind.IN_OUT) and one.id not in closed]
        closed.update(one.id for one in came)
        gone += [RequestWithdrawn(mix, one.id, SET_SINCE) for one in came]
    return (*gone, *put_back(left, show.revision + len(events) + len(gone)))


def _after_hand(request: Request, before: Setting, after: Setting) -> int:
    """Return what is still to be done of what waits once a hand set its place, in the unit of the kind."""
    if request.is_for_preamp:
        up = max(0, after.level_tenths - before.level_tenths)
        return max(0, request.amount - up) if request.amount > 0 else request.amount
    is_set = {
        Kind.LEVEL: after.level_tenths != before.level_tenths,
        Kind.PAN: after.pan_percent != before.pan_percent,
        Kind.IN_OUT: after.is_on is not before.is_on,
    }
    return 0 if is_set[request.key.kind] else request.amount


def _own(requests: Iterable[Request]) -> list[Request]:
    """Return what the desk itself has waiting: what is put back, and what makes up for a preamp."""
    return [one for one in requests if one.is_put_back or one.is_for_preamp]


def _by_group(key: RowKey, amounts: Mapping[Request, int]) -> list[Left]:
    """Add up what is left for each thing that it is for; nothing for those of which nothing is."""
    sums: dict[str, int] = {}
    for request, amount in amounts.items():
        sums[request.group] = sums.get(request.group, 0) + amount
    return [Left(key, amount, group) for group, amount in sums.items() if amount]


def _closed_by(events: Iterable[Event]) -> Iterator[str]:
    for event in events:
        match event:
            case RequestsAnswered(requests=requests) | RequestsCancelledOut(requests=requests):
                yield from requests
            case RequestWithdrawn(request=request):
                yield request


def _set_by_hand(events: Iterable[Event]) -> Iterator[tuple[str, str | None, Setting]]:
    for event in events:
        match event:
            case LevelCorrected(move=move):
                yield move.mix, move.source, move.after
            case SendPut(mix=mix, source=source, setting=setting):
                yield mix, source, setting
            case LevelsCarried(mix=mix, settings=settings) | LevelsPutLow(mix=mix, settings=settings):
                yield from ((mix, source, setting) for source, setting in settings)


def _turned_down_at_calls(events: Iterable[Event]) -> Iterator[RowKey]:
    """Yield the rows in which a raise would undo what was done at a call."""
    for event in events:
        match event:
            case RequestsAnswered(kind=Kind.CALL, move=move, also=also):
                for one in (move, *also):
                    if one and (one.after.level_tenths < one.before.level_tenths or not one.after.is_on):
                        yield RowKey(one.mix, one.source, Kind.LEVEL)
                    if one and not one.after.is_on:
                        yield RowKey(one.mix, one.source, Kind.IN_OUT)


def _brought_in(events: Iterable[Event]) -> Iterator[tuple[str, str | None]]:
    for event in events:
        match event:
            case RequestsAnswered(move=move, also=also) | DecisionUndone(move=move, also=also):
                yield from ((one.mix, one.source) for one in (move, *also) if one and one.after.is_on)
