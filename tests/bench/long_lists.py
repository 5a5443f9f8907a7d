"""Long lists planned, to see how near the best and how fast: run `python -m tests.bench.long_lists`.

A ratio compares with the best order up to ten rows, and above that with a cost that no order can undercut, so that
the true figure is smaller. Times are of this machine's processor.
"""

import math
import random
import sys
import time
from collections.abc import Iterator
from statistics import mean, median

from monreq.domain.gap_plan_bound import least_cost
from monreq.domain.gap_plan_exact import exact_order, precedence
from monreq.domain.gap_plan_near import near_order
from monreq.domain.gap_problem import GapProblem

SIZES = ((6, 3), (10, 3), (10, 7), (25, 7), (60, 10), (200, 24), (1000, 24))
TIMES = 100


def made_up(chance: random.Random, rows: int, mixes: int) -> GapProblem:
    """Make up a queue: moves alike in half of the cases, weights of few and many asks, old and new."""
    usual_s = chance.choice((4.0, None))
    return GapProblem(
        moves_s=tuple(usual_s or chance.uniform(1, 12) for _ in range(rows)),
        weights=tuple(chance.choice((1, 1, 1.5, 2, 3)) * 2 ** chance.uniform(0, 4) for _ in range(rows)),
        mixes=tuple(chance.randrange(mixes) for _ in range(rows)),
        gap_s=chance.choice((20.0, 40.0, 90.0, math.inf)),
        setup_s=chance.uniform(0, 12),
        song_s=240.0,
        at_mix=chance.choice((None, 0)),
    )


def lines() -> Iterator[str]:
    """Yield the table's lines."""
    yield f"{'rows':>5}{'mixes':>6}{'mean ratio':>12}{'largest':>9}{'to asking':>11}{'median ms':>11}{'most ms':>9}"
    for rows, mixes in SIZES:
        chance = random.Random(rows * 100 + mixes)
        yield _line(rows, mixes, [made_up(chance, rows, mixes) for _ in range(TIMES)])


def _line(rows: int, mixes: int, problems: list[GapProblem]) -> str:
    ratios, to_asking, took_ms = [], [], []
    for problem in problems:
        began_s = time.process_time()
        cost = problem.cost(near_order(problem))
        took_ms.append((time.process_time() - began_s) * 1000)
        ratios.append(cost / _best(problem))
        to_asking.append(cost / problem.cost(problem.rows))
    return (
        f"{rows:5}{mixes:6}{mean(ratios):12.4f}{max(ratios):9.4f}{mean(to_asking):11.2f}"
        f"{median(took_ms):11.1f}{max(took_ms):9.1f}"
    )


def _best(problem: GapProblem) -> float:
    if len(problem.rows) > 10:
        return least_cost(problem)
    return problem.cost(exact_order(problem, precedence(problem)))


if __name__ == "__main__":
    for line in lines():
        sys.stdout.write(f"{line}\n")
