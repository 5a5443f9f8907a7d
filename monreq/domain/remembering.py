"""Remembers what was made of parts of a state: two states share the very objects that did not change between them."""

from collections.abc import Callable
from functools import wraps
from typing import Final, TypeVar, TypeVarTuple

Parts = TypeVarTuple("Parts")
Made = TypeVar("Made")

_MOST: Final = 4096  # chosen: a hundred mixes, changed forty times each


def by_identity(make: Callable[[*Parts], Made]) -> Callable[[*Parts], Made]:
    """Make a function remember its answers by which objects it was given, not by what is in them.

    Sound only for a pure function of values that nobody changes, such as the parts of a `Show`; and quick, where
    comparing what is in them would take as long as making the answer again.
    """
    kept: dict[tuple[int, ...], tuple[tuple[*Parts], Made]] = {}

    @wraps(make)
    def remembered(*parts: *Parts) -> Made:
        which = tuple(map(id, parts))
        found = kept.get(which)
        if found is None:
            if len(kept) >= _MOST:
                kept.clear()
            # The parts are kept too: else another object could come to stand where one of them was.
            found = kept[which] = (parts, make(*parts))
        return found[1]

    return remembered
