"""What is still to be put back up after an undo or a plan that was given up: rows of the desk's own, worked in steps.

Putting something back is a raise like any other. What the guard holds back of it waits in the queue, so that it is not
forgotten, and is suggested like what a musician asks. Of a row that was done in part the rest waits on; only *not done*
gives it up.
"""

from collections.abc import Iterable

from monreq.domain.decisions import Decision
from monreq.domain.events import DESK, ChangeAsked
from monreq.domain.requests import PUT_BACK, Kind, Move, Outcome, Request, RowKey

Left = tuple[RowKey, int]
"""What is left to put back in a row, in the unit of its kind."""


def group_of(what: object) -> str:
    """Return the group of what is put back for an undo, by the revision that it follows, or for a plan, by its id."""
    return f"{PUT_BACK}{what}"


def put_back(left: Iterable[Left], revision: int, group: str = "") -> tuple[ChangeAsked, ...]:
    """Return the requests for what is left to put back.

    Args:
        left: What is left, by row.
        revision: Of the event that they follow; their ids count on from it.
        group: Theirs, where it is not one of its own.
    """
    group = group or group_of(revision)
    return tuple(
        ChangeAsked(f"r{revision + place}", key.mix, key.source, key.kind, DESK, amount, group=group)
        for place, (key, amount) in enumerate(left, start=1)
    )


def same_group(requests: Iterable[Request]) -> str:
    """Return the group of those of some requests that put something back; empty if they are of none, or of several."""
    groups = {one.group for one in requests if one.is_put_back}
    return groups.pop() if len(groups) == 1 else ""


def left_of(whole: Move, part: Move) -> list[Left]:
    """Return what is left of a move that was made in part: up, in, or aside."""
    if whole.after.is_on and not part.after.is_on:
        return [(RowKey(whole.mix, whole.source, Kind.IN_OUT), 1)]
    up = whole.after.level_tenths - part.after.level_tenths
    aside = whole.after.pan_percent - part.after.pan_percent
    level = [(RowKey(whole.mix, whole.source, Kind.LEVEL), up)] if up > 0 else []
    return level + ([(RowKey(whole.mix, whole.source, Kind.PAN), aside)] if aside else [])


def left_of_answer(answered: Decision) -> list[Left]:
    """Return what an answer leaves of what was to be put back."""
    is_done = answered.outcome is Outcome.DONE and answered.done is not None
    left = answered.to_put_back - _done(answered) if is_done else 0
    return [(answered.key, left)] if left else []


def put_back_by(answered: Decision) -> list[Left]:
    """Return what an answer put back, which is to be put back again once it is undone."""
    done = _done(answered)
    return [(answered.key, done)] if done else []


def _done(answered: Decision) -> int:
    if answered.key.kind is Kind.IN_OUT:
        return answered.to_put_back if (answered.done or 0) > 0 else 0
    return answered.done_for_put_back or 0
