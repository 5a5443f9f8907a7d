"""What no gap plan can undercut: the cost if coming back to a mix cost nothing."""

from monreq.domain.gap_problem import GapProblem

Batch = tuple[float, float]
"""Time and weight of rows done in one go. [s, 1]"""


def least_cost(problem: GapProblem) -> float:
    """Return a lower bound on the cost of any order.

    If every mix is set up once and coming back is free, set-up and moves are jobs of which the set-up stands first.
    Merging each mix's cheapest beginnings by time per weight is then the best order (Sidney, Operations Research 23,
    1975; Horn, SIAM Journal on Applied Mathematics 23, 1972), and filling the gap in this order, the last batch in
    part, does at least as much weight within the gap as any plan.
    """
    batches = sorted(
        (
            batch
            for mix, rows in enumerate(problem.rows_by_mix)
            for batch in _batches(problem, rows, 0.0 if mix == problem.at_mix else problem.setup_s)
        ),
        key=lambda batch: batch[0] / batch[1],
    )
    return _waiting(problem, batches) + problem.song_s * _late_weight(problem, batches)


def _batches(problem: GapProblem, rows: list[int], setup_s: float) -> list[Batch]:
    """Return a mix's rows in order of ratio; the first batch holds the set-up and as many rows as pay for it."""
    if not rows:
        return []
    in_order = [(problem.moves_s[row], problem.weights[row]) for row in sorted(rows, key=problem.ratio)]
    time_s, weight = setup_s + in_order[0][0], in_order[0][1]
    taken = 1
    while taken < len(in_order) and in_order[taken][0] * weight < time_s * in_order[taken][1]:
        time_s += in_order[taken][0]
        weight += in_order[taken][1]
        taken += 1
    return [(time_s, weight), *in_order[taken:]]


def _waiting(problem: GapProblem, batches: list[Batch]) -> float:
    """Return the sum of weight times completion in the order of the batches, rows of a batch one by one."""
    clock_s = waiting = 0.0
    for time_s, weight in batches:
        clock_s += time_s
        waiting += weight * clock_s
    return waiting - _ends_before_their_batch(problem)


def _ends_before_their_batch(problem: GapProblem) -> float:
    """Return by how much the rows of the first batches end before their batch does, weighted."""
    saved = 0.0
    for mix, rows in enumerate(problem.rows_by_mix):
        in_order = sorted(rows, key=problem.ratio)
        first = _batches(problem, rows, 0.0 if mix == problem.at_mix else problem.setup_s)
        rest_s = 0.0
        for row in reversed(in_order[: len(in_order) - len(first) + 1]):
            saved += problem.weights[row] * rest_s
            rest_s += problem.moves_s[row]
    return saved


def _late_weight(problem: GapProblem, batches: list[Batch]) -> float:
    """Return the weight that at least ends after the gap."""
    left_s, late = problem.gap_s, 0.0
    for time_s, weight in batches:
        fitting = 1.0 if time_s <= left_s else left_s / time_s
        late += weight * (1 - fitting)
        left_s = max(0.0, left_s - time_s)
    return late
