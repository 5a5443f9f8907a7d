"""Mixes of one kind as points that are so far apart, and what putting some of them together costs at least."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

Corner = tuple[float, float]


@dataclass(frozen=True)
class Points:
    """Mixes of one kind, as numbers from 0.

    Attributes:
        apart: How far two of them are apart: mean square of the differences of their levels. [dB^2]
        may_share: For each, as a bit mask, those that may be put into one group with it.
    """

    apart: Sequence[Sequence[float]]
    may_share: Sequence[int]

    def __len__(self) -> int:
        return len(self.apart)

    def cost(self, group: Sequence[int]) -> float:
        """Return the sum over a group of the mean square distance of each from the mean of all. [dB^2].

        It is the sum over its pairs divided by its size; it never falls when a group grows.
        """
        return sum(self.apart[one][other] for one in group for other in group if one < other) / len(group)

    def may_all_share(self, one: Sequence[int], other: Sequence[int]) -> bool:
        """Whether two groups may be put together."""
        return all(self.may_share[first] >> second & 1 for first in one for second in other)

    @cached_property
    def edges(self) -> list[tuple[float, int, int]]:
        """Those that may share, two and two, the nearest first."""
        numbers = range(len(self))
        return sorted(
            (self.apart[one][other], one, other)
            for one in numbers
            for other in numbers
            if one < other and self.may_share[one] >> other & 1
        )


def members(mask: int) -> list[int]:
    """Return the numbers in a set given as a bit mask."""
    return [number for number in range(mask.bit_length()) if mask >> number & 1]


def merge_bounds(points: Points, left: int) -> list[float]:
    """Return what partitions of some mixes cost at least that have no merge, one merge, two and so on.

    So many numbers fewer there are groups than mixes. Where the list ends, no partition has more merges. The higher
    of two bounds counts.
    """
    return [max(pair) for pair in zip(_forest(points, left), _nearest(points, left), strict=False)]


def _forest(points: Points, left: int) -> list[float]:
    """Return bounds from the shortest forests: a group of m holds trees, whose mean is 2 / m of its pairs."""
    root = {number: number for number in members(left)}
    bounds = [0.0]
    for length, one, other in points.edges:
        if one in root and other in root and root[one] != root[other]:
            bounds.append(bounds[-1] + length / 2)
            gone, kept = root[other], root[one]
            root = {number: kept if at == gone else at for number, at in root.items()}
    return bounds


def _nearest(points: Points, left: int) -> list[float]:
    """Return bounds from the nearest others of each mix.

    In a group of m each mix has a share in the cost of at least its m - 1 nearest divided by 2 m, and in the merges of
    1 - 1 / m; the least that shares of so many merges cost is found along the lower hulls, the flattest first.
    """
    pieces = sorted(piece for one in members(left) for piece in _hull(list(_corners(points, one, left))))
    bounds, cost, room = [0.0], 0.0, 1.0
    for slope, length in pieces:
        while length > room:
            cost += slope * room
            length, room = length - room, 1.0
            bounds.append(cost)
        cost += slope * length
        room -= length
    return [*bounds, cost] if math.isclose(room, 0, abs_tol=1e-9) else bounds


def _corners(points: Points, one: int, left: int) -> Iterator[Corner]:
    """Yield shares in merges and in cost, for groups of one, two and so on."""
    near = sorted(points.apart[one][other] for other in members(left & points.may_share[one]))
    total = 0.0
    yield 0.0, 0.0
    for size, length in enumerate(near, start=2):
        total += length
        yield 1 - 1 / size, total / (2 * size)


def _hull(corners: list[Corner]) -> Iterator[Corner]:
    """Yield the pieces of the lower hull: slope and length."""
    hull: list[Corner] = []
    for corner in corners:
        while len(hull) > 1 and _slope(hull[-2], corner) <= _slope(hull[-2], hull[-1]):
            hull.pop()
        hull.append(corner)
    return ((_slope(one, other), other[0] - one[0]) for one, other in pairwise(hull))


def _slope(one: Corner, other: Corner) -> float:
    return (other[1] - one[1]) / (other[0] - one[0])
