"""Who and what is drawn on a stage, and how much room their names have there: whole names, where they fit."""

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

LINE_CM = 24  # from line to line below somebody, as the page draws them

LETTER_CM = (
    13  # as wide as a letter of the drawing's names on average, measured in a browser, and a little more
)
_LEAST_ROOM_CM, _MOST_ROOM_CM = 60, 300  # chosen
_GAP_CM = 4  # chosen: between a name and what is beside it

# As the page draws them, from the middle of who or what is drawn; y grows towards the audience.
_MUSICIAN_CM, _SOURCE_CM = 31, 9  # half a square, turned
_NAME_ABOVE_MUSICIAN, _NAME_ABOVE_SOURCE = (-54, -28), (-36, -10)
_FIRST_BELOW_CM = 44

_Band = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A musician or a source at its own place, in the drawing's units: centimetres, y growing towards the audience.

    Attributes:
        field: The beginning of the names of its fields.
        facing_deg: As the stage plan has it; a drawing turns by it clockwise, because 0 faces down.
        sources: The names of what stands beside a musician.
        room: How wide the names may be, so that they meet nobody. [cm]
        shift: How far the names stand to the right, to have that room. [cm]
    """

    field: str
    name: str
    x: int
    y: int
    facing_deg: int = 0
    sources: tuple[str, ...] = ()
    room: int = _MOST_ROOM_CM
    shift: int = 0
    is_musician: bool = False

    def cut(self, name: str) -> str:
        """Return a name as far as there is room for it."""
        room = self.room // LETTER_CM
        if sum(_widths(name)) <= room:
            return name
        kept = [one for place, one in enumerate(name) if sum(_widths(name)[: place + 1]) < room]
        return "".join(kept).rstrip() + "\N{HORIZONTAL ELLIPSIS}"


def roomy(some: Sequence[Drawn], everybody: Sequence[Drawn], edge_cm: int) -> Iterator[Drawn]:
    """Give each as much room for its names as its neighbours, and the drawing's edges, leave."""
    for one in some:
        neighbours = [other for other in everybody if other is not one]
        left = min([edge_cm + one.x, *_limits(one, [other for other in neighbours if other.x <= one.x])])
        right = min([edge_cm - one.x, *_limits(one, [other for other in neighbours if other.x >= one.x])])
        room = max(_LEAST_ROOM_CM, 2 * min(left, right), min(2 * _half(one), left + right))
        room = min(room, _MOST_ROOM_CM)
        shift = min(0, right - room // 2) or max(0, room // 2 - left)
        yield replace(one, room=room, shift=shift if left + right >= room else 0)


def _limits(one: Drawn, others: Sequence[Drawn]) -> Iterator[int]:
    """Give how far the names of one may reach towards each of others on one side."""
    for other in others:
        apart, down = abs(other.x - one.x), other.y - one.y
        if _meet(_bands(one), [_body(other)], down):
            yield apart - _size(other) - _GAP_CM
        if _meet(_bands(one), _bands(other), down):
            yield _share(apart, _half(one), _half(other))


def _share(apart: int, mine: int, theirs: int) -> int:
    """Return how far names may reach towards others, whose half is `theirs`: what is left over is halved."""
    if mine + theirs <= apart:
        return mine + (apart - mine - theirs) // 2
    return mine if mine <= apart // 2 else apart - min(theirs, apart // 2)


def _meet(mine: Sequence[_Band], theirs: Sequence[_Band], down: int) -> bool:
    return any(a[0] < b[1] + down and b[0] + down < a[1] for a, b in product(mine, theirs))


def _bands(one: Drawn) -> list[_Band]:
    """Return from where to where the lines of names are written."""
    above = _NAME_ABOVE_MUSICIAN if one.is_musician else _NAME_ABOVE_SOURCE
    below = [_FIRST_BELOW_CM + LINE_CM * line for line in range(len(one.sources))]
    return [above, *((top, top + LINE_CM) for top in below)]


def _body(one: Drawn) -> _Band:
    return -_size(one), _size(one)


def _size(one: Drawn) -> int:
    return _MUSICIAN_CM if one.is_musician else _SOURCE_CM


def _half(one: Drawn) -> int:
    """Return half the width of the widest name."""
    widest = max(sum(_widths(name)) for name in (one.name, *one.sources))
    return (widest * LETTER_CM + 1) // 2


def _widths(name: str) -> list[int]:
    return [2 if unicodedata.east_asian_width(one) in "WF" else 1 for one in name]
