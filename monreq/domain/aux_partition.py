"""Which mixes to put together so that what each hears is least far from its own: exact partitions into groups."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from monreq.domain.aux_points import Points, members, merge_bounds

MOST_EXACT = 16
"""Chosen: up to here it takes some seconds at the very worst, with more mixes of one kind it can take too long."""

Groups = tuple[tuple[int, ...], ...]


def merged_step_by_step(points: Points) -> dict[int, Groups]:
    """Return good partitions by how many groups they have: always the two put together that it costs least to."""
    groups: Groups = tuple((number,) for number in range(len(points)))
    found: dict[int, Groups] = {len(groups): groups}
    while joined := _cheapest_join(points, groups):
        one, other = joined
        rest = (group for group in groups if group not in joined)
        groups = tuple(sorted((*rest, tuple(sorted(one + other)))))
        found[len(groups)] = groups
    return found


def _cheapest_join(points: Points, groups: Groups) -> tuple[tuple[int, ...], tuple[int, ...]] | None:
    costs = {group: points.cost(group) for group in groups}
    joins = [
        (points.cost(one + other) - costs[one] - costs[other], one, other)
        for one, other in combinations(groups, 2)
        if points.may_all_share(one, other)
    ]
    return min(joins)[1:] if joins else None


def best_partition(points: Points, groups: int) -> tuple[Groups, bool] | None:
    """Return the cheapest partition into so many groups, and whether it is sure that none costs less.

    Args:
        points: The mixes.
        groups: How many groups, at most as many as mixes.

    Returns:
        None if there is no such partition, or, with more than 16 mixes, none was found.
    """
    first = merged_step_by_step(points).get(groups)
    if len(points) > MOST_EXACT:
        return None if first is None else (first, False)
    search = _Search(points, first, math.inf if first is None else sum(map(points.cost, first)))
    search.go_on((), 0.0, (1 << len(points)) - 1, len(points) - groups)
    return None if search.best is None else (search.best, True)


@dataclass(frozen=True, slots=True)
class _Group:
    """A group that may grow.

    Attributes:
        pairs: Sum of how far its members are apart, two and two.
        candidates: Those that may still join it, as a bit mask.
        rest: All that are left without it, as a bit mask.
    """

    numbers: tuple[int, ...]
    pairs: float
    candidates: int
    rest: int

    @property
    def cost(self) -> float:
        """Its share in the cost."""
        return self.pairs / len(self.numbers)

    def grown(self, points: Points) -> "Iterator[_Group]":
        """Yield it with one more member; members join in rising order, so that no group comes twice."""
        candidates = self.candidates
        for number in members(candidates):
            candidates &= ~(1 << number)
            yield _Group(
                (*self.numbers, number),
                self.pairs + sum(points.apart[number][one] for one in self.numbers),
                candidates & points.may_share[number],
                self.rest & ~(1 << number),
            )


@dataclass
class _Search:
    """Branch and bound: the group of the lowest number left is chosen, then that of the next, the most promising first."""

    points: Points
    best: Groups | None
    best_cost: float
    _bounds: dict[int, list[float]] = field(default_factory=dict)

    def go_on(self, chosen: Groups, cost: float, left: int, merges: int) -> None:
        if not merges:
            self._keep(chosen + tuple((number,) for number in members(left)), cost)
            return
        first = (left & -left).bit_length() - 1
        rest = left & ~(1 << first)
        alone = _Group((first,), 0.0, rest & self.points.may_share[first], rest)
        tried = sorted(self._groups(alone, cost, merges))
        for bound, own_cost, group in tried:
            if bound < self.best_cost:
                left_after = left & ~_mask(group)
                self.go_on((*chosen, group), cost + own_cost, left_after, merges - len(group) + 1)

    def _keep(self, groups: Groups, cost: float) -> None:
        if cost < self.best_cost:
            self.best, self.best_cost = groups, cost

    def _groups(
        self, group: _Group, cost: float, merges: int
    ) -> Iterator[tuple[float, float, tuple[int, ...]]]:
        """Yield a group and those that grow from it, each with a bound on the whole and its own cost."""
        merges_left = merges - len(group.numbers) + 1
        if cost + group.cost >= self.best_cost:
            return
        bound = cost + group.cost + self._at_least(group.rest, merges_left)
        if bound < self.best_cost:
            yield bound, group.cost, group.numbers
        if merges_left:
            for larger in group.grown(self.points):
                yield from self._groups(larger, cost, merges)

    def _at_least(self, left: int, merges: int) -> float:
        if left not in self._bounds:
            self._bounds[left] = merge_bounds(self.points, left)
        bounds = self._bounds[left]
        return bounds[merges] if merges < len(bounds) else math.inf


def _mask(group: Sequence[int]) -> int:
    return sum(1 << number for number in group)
