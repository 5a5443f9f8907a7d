"""The exact gap plan: dynamic programming over rows done, the mix the desk is on, and set-ups so far."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from monreq.domain.gap_problem import GapProblem

MOST_SETS = 1024
"""Chosen: as many sets of rows done as ten rows of any kind can have; that is a few hundredths of a second."""


def precedence(problem: GapProblem) -> list[int]:
    """Return for each row, as a bit mask, the rows of its mix that stand before it in some best order.

    A row that takes no longer and weighs no less than another of its mix comes first: changing the two places makes
    nothing later and nothing dearer. If no order can outlast the gap, the smaller time per weight comes first
    (Monma and Potts, Operations Research 37, 1989: within a family the order of ratios is optimal). Equals keep the
    order of asking.
    """
    before = [0] * len(problem.rows)
    is_gap_long = problem.longest_s <= problem.gap_s
    for rows in problem.rows_by_mix:
        for one in rows:
            before[one] = sum(
                1 << other for other in rows if _comes_first(problem, other, one, is_gap_long=is_gap_long)
            )
    return before


def _comes_first(problem: GapProblem, one: int, other: int, *, is_gap_long: bool) -> bool:
    if one == other:
        return False
    if is_gap_long:
        return (problem.ratio(one), one) < (problem.ratio(other), other)
    quicker = problem.moves_s[other] - problem.moves_s[one]
    heavier = problem.weights[one] - problem.weights[other]
    return quicker >= 0 and heavier >= 0 and (quicker + heavier > 0 or one < other)


def count_sets(problem: GapProblem, before: list[int], most: int) -> int:
    """Return how many sets of rows done can occur; counting stops once it is more than `most`."""
    count = 1
    for rows in problem.rows_by_mix:
        count *= _count_sets_of_mix(rows, before, most)
        if count > most:
            break
    return count


def _count_sets_of_mix(rows: list[int], before: list[int], most: int) -> int:
    seen = layer = {0}
    while layer and len(seen) <= most:
        layer = {done | 1 << row for done in layer for row in _next_rows(rows, before, done)}
        seen = seen | layer
    return len(seen)


def _next_rows(rows: list[int] | range, before: list[int], done: int) -> Iterator[int]:
    """Yield the rows that may come next."""
    return (row for row in rows if not done >> row & 1 and before[row] & ~done == 0)


@dataclass(frozen=True, slots=True)
class _Way:
    """One way of having done a set of rows: set-ups fix the time, so fewer of them at no more cost is better."""

    setups: int
    cost: float
    row: int = -1
    previous: "_Way | None" = None


@dataclass(slots=True)
class _Reached:
    """A set of rows done: the time their moves took, and by the mix the desk is on the ways that none beats."""

    work_s: float
    ways: dict[int | None, list[_Way]] = field(default_factory=dict)


def exact_order(problem: GapProblem, before: list[int]) -> list[int]:
    """Return an order of least cost; among equals always the same one.

    Args:
        problem: Rows and times.
        before: As `precedence` returns it.
    """
    layer = {0: _Reached(0.0, {problem.at_mix: [_Way(0, 0.0)]})}
    for _ in problem.rows:
        layer = _next_layer(problem, before, layer)
    (everything,) = layer.values()
    last = [way for ways in everything.ways.values() for way in ways]
    return _followed_back(min(last, key=lambda way: way.cost))


def _next_layer(problem: GapProblem, before: list[int], layer: dict[int, _Reached]) -> dict[int, _Reached]:
    following: dict[int, _Reached] = {}
    for done, reached in layer.items():
        for row in _next_rows(problem.rows, before, done):
            after = following.setdefault(done | 1 << row, _Reached(reached.work_s + problem.moves_s[row]))
            _go_on(problem, reached, row, after)
    return following


def _go_on(problem: GapProblem, reached: _Reached, row: int, after: _Reached) -> None:
    """Do one more row, from every mix the desk can be on."""
    mix, weight = problem.mixes[row], problem.weights[row]
    kept = after.ways.setdefault(mix, [])
    for at, ways in reached.ways.items():
        for way in ways:
            setups = way.setups + (at != mix)
            clock_s = after.work_s + problem.setup_s * setups
            late_s = problem.song_s if clock_s > problem.gap_s else 0.0
            _keep(kept, _Way(setups, way.cost + weight * (clock_s + late_s), row, way))


def _keep(kept: list[_Way], new: _Way) -> None:
    """Keep a way unless another has no more set-ups and costs no more."""
    if any(old.setups <= new.setups and old.cost <= new.cost for old in kept):
        return
    kept[:] = [old for old in kept if old.setups < new.setups or old.cost < new.cost]
    kept.append(new)


def _followed_back(way: _Way) -> list[int]:
    order = []
    while way.previous is not None:
        order.append(way.row)
        way = way.previous
    return order[::-1]
