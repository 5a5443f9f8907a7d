"""The exact gap plan: dynamic programming over rows done, the mix the desk is on, and set-ups so far."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain

from monreq.domain.gap_problem import GapProblem

MOST_SETS = 1024
"""Chosen: as many sets of rows done as ten rows of any kind can have; that is a few hundredths of a second."""


def precedence(problem: GapProblem) -> list[int]:
    """Return for each row, as a bit mask, the rows that stand before it in some best order.

    A row that takes no longer and weighs no less than another of its mix comes first: changing the two places makes
    nothing later and nothing dearer. So it is with two rows that are each alone in a mix the desk is not on: either
    takes a set-up wherever it stands, and so does what follows it. Within a mix, if no order can outlast the gap, the
    smaller time per weight comes first (Monma and Potts, Operations Research 37, 1989: within a family the order of
    ratios is optimal). Equals keep the order of asking.
    """
    before = [0] * len(problem.rows)
    is_gap_long = problem.longest_s <= problem.gap_s
    for rows in _alike(problem):
        by_ratio = is_gap_long and problem.mixes[rows[0]] == problem.mixes[rows[-1]]
        for one in rows:
            before[one] = sum(
                1 << other for other in rows if _comes_first(problem, other, one, by_ratio=by_ratio)
            )
    return before


def _alike(problem: GapProblem) -> list[list[int]]:
    """Part the rows so that an order may be known within a part: one for each mix, one for all that are alone."""
    by_mix = [rows for rows in problem.rows_by_mix if rows]
    alone = [rows[0] for rows in by_mix if len(rows) == 1 and problem.mixes[rows[0]] != problem.at_mix]
    others = [rows for rows in by_mix if rows[0] not in alone]
    return [*others, alone] if alone else others


def _comes_first(problem: GapProblem, one: int, other: int, *, by_ratio: bool) -> bool:
    if one == other:
        return False
    if by_ratio:
        return (problem.ratio(one), one) < (problem.ratio(other), other)
    quicker = problem.moves_s[other] - problem.moves_s[one]
    heavier = problem.weights[one] - problem.weights[other]
    return quicker >= 0 and heavier >= 0 and (quicker + heavier > 0 or one < other)


def count_sets(problem: GapProblem, before: list[int], most: int) -> int:
    """Return how many sets of rows done can occur; counting stops once it is more than `most`."""
    count = 1
    for rows in _alike(problem):
        count *= _count_sets_of(rows, before, most)
        if count > most:
            break
    return count


def _count_sets_of(rows: list[int], before: list[int], most: int) -> int:
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
        from_anywhere: list[_Way] = []
        for way in chain.from_iterable(reached.ways.values()):
            if not _is_beaten(from_anywhere, way.setups, way.cost):
                _keep(from_anywhere, way)
        for row in _next_rows(problem.rows, before, done):
            if done | 1 << row not in following:
                following[done | 1 << row] = _Reached(reached.work_s + problem.moves_s[row])
            after = following[done | 1 << row]
            _go_on(problem, row, reached.ways.get(problem.mixes[row], []), after, setups=0)
            # Those from the row's own mix are among them, and beaten by the same without a set-up.
            _go_on(problem, row, from_anywhere, after, setups=1)
    return following


def _go_on(problem: GapProblem, row: int, ways: list[_Way], after: _Reached, *, setups: int) -> None:
    """Do one more row, after so many more set-ups."""
    weight = problem.weights[row]
    kept = after.ways.setdefault(problem.mixes[row], [])
    for way in ways:
        so_far = way.setups + setups
        clock_s = after.work_s + problem.setup_s * so_far
        late_s = problem.song_s if clock_s > problem.gap_s else 0.0
        cost = way.cost + weight * (clock_s + late_s)
        if not _is_beaten(kept, so_far, cost):
            _keep(kept, _Way(so_far, cost, row, way))


def _is_beaten(kept: list[_Way], setups: int, cost: float) -> bool:
    """Tell whether a way that is kept has no more set-ups and costs no more."""
    return any(old.setups <= setups and old.cost <= cost for old in kept)


def _keep(kept: list[_Way], new: _Way) -> None:
    """Keep a way, and none that it beats."""
    kept[:] = [old for old in kept if old.setups < new.setups or old.cost < new.cost]
    kept.append(new)


def _followed_back(way: _Way) -> list[int]:
    order = []
    while way.previous is not None:
        order.append(way.row)
        way = way.previous
    return order[::-1]
