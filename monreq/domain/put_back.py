"""What is still to be put back up after an undo or a plan that was given up: rows of the desk's own, worked in steps.

Putting something back is a raise like any other. What the guard holds back of it waits in the queue, so that it is not
forgotten, and is suggested like what a musician asks.
"""

from collections.abc import Iterable, Iterator

from monreq.domain.events import DESK, ChangeAsked
from monreq.domain.requests import PUT_BACK, Kind, Move


def group_of(what: object) -> str:
    """Return the group of what is put back for an undo, by the revision that it follows, or for a plan, by its id."""
    return f"{PUT_BACK}{what}"


def put_back(rest: Iterable[tuple[Move, Move]], revision: int, given_up: str = "") -> tuple[ChangeAsked, ...]:
    """Return the requests for what is left of moves that were made in part, to follow the event of a revision.

    Args:
        rest: What was wanted, and what was done of it.
        revision: Of the event that they follow; their ids count on from it.
        given_up: The plan that was given up; empty for an undo.
    """
    asked = [one for whole, part in rest for one in _left(whole, part)]
    return tuple(
        ChangeAsked(
            f"r{revision + place}", mix, source, kind, DESK, amount, group=group_of(given_up or revision)
        )
        for place, (mix, source, kind, amount) in enumerate(asked, start=1)
    )


def _left(whole: Move, part: Move) -> Iterator[tuple[str, str | None, Kind, int]]:
    if whole.after.is_on and not part.after.is_on:
        yield whole.mix, whole.source, Kind.IN_OUT, 1
    elif whole.after.level_tenths > part.after.level_tenths:
        yield whole.mix, whole.source, Kind.LEVEL, whole.after.level_tenths - part.after.level_tenths
