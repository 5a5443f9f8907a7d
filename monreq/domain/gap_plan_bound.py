"""What no gap plan can undercut: the cost if coming back to a mix cost nothing."""

from collections.abc import Iterator
from dataclasses import dataclass

from monreq.domain.gap_problem import GapProblem


@dataclass(frozen=True, slots=True)
class _Batch:
    """Rows of one mix done in one go, after a set-up or without one."""

    setup_s: float
    rows: tuple[int, ...]
    time_s: float
    weight: float


def least_cost(problem: GapProblem) -> float:
    """Return a lower bound on the cost of any order.

    If every mix is set up once and coming back is free, set-up and moves are jobs of which the set-up stands first.
    Merging each mix's cheapest beginnings by time per weight is then the best order (Horn, SIAM Journal on Applied
    Mathematics 23, 1972; Sidney, Operations Research 23, 1975), and filling the gap in this order, the last batch in
    part, does at least as much weight within the gap as any plan.
    """
    batches = [
        batch
        for mix, rows in enumerate(problem.rows_by_mix)
        for batch in _batches(problem, rows, 0.0 if mix == problem.at_mix else problem.setup_s)
    ]
    batches.sort(key=lambda batch: batch.time_s / batch.weight)
    return _waiting(problem, batches) + problem.song_s * _late_weight(problem.gap_s, batches)


def _batches(problem: GapProblem, rows: list[int], setup_s: float) -> Iterator[_Batch]:
    """Yield a mix's rows in order of ratio: first the set-up with as many rows as make it pay, then one by one."""
    in_order = sorted(rows, key=problem.ratio)
    time_s, weight, count = setup_s, 0.0, 0
    for row in in_order:
        if count and problem.moves_s[row] * weight >= time_s * problem.weights[row]:
            break
        time_s += problem.moves_s[row]
        weight += problem.weights[row]
        count += 1
    if count:
        yield _Batch(setup_s, tuple(in_order[:count]), time_s, weight)
    for row in in_order[count:]:
        yield _Batch(0.0, (row,), problem.moves_s[row], problem.weights[row])


def _waiting(problem: GapProblem, batches: list[_Batch]) -> float:
    """Return the sum of weight times completion in the order of the batches."""
    clock_s = waiting = 0.0
    for batch in batches:
        clock_s += batch.setup_s
        for row in batch.rows:
            clock_s += problem.moves_s[row]
            waiting += problem.weights[row] * clock_s
    return waiting


def _late_weight(gap_s: float, batches: list[_Batch]) -> float:
    """Return the weight that at least ends after the gap."""
    left_s, late = gap_s, 0.0
    for batch in batches:
        fitting = 1.0 if batch.time_s <= left_s else left_s / batch.time_s
        late += batch.weight * (1 - fitting)
        left_s = max(0.0, left_s - batch.time_s)
    return late
