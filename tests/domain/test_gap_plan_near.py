"""The plan for long lists, on lists short enough to know the best order."""

import random

import pytest

from monreq.domain.gap_plan_exact import exact_order, precedence
from monreq.domain.gap_plan_near import near_order
from monreq.domain.gap_problem import GapProblem


def made_up(seed: int) -> GapProblem:
    """Make up a problem of four to ten rows, always the same for a seed."""
    chance = random.Random(seed)
    rows = range(chance.randrange(4, 11))
    mixes = chance.randrange(1, 6)
    return GapProblem(
        moves_s=tuple(chance.uniform(0.5, 20) for _ in rows),
        weights=tuple(chance.uniform(0.2, 20) for _ in rows),
        mixes=tuple(chance.randrange(mixes) for _ in rows),
        gap_s=chance.uniform(10, 90),
        setup_s=chance.uniform(0, 12),
        song_s=chance.choice((0.0, 60.0, 240.0)),
        at_mix=chance.choice((None, 0)),
    )


@pytest.mark.parametrize("first", range(0, 400, 100))
def test_near_order_costs_at_most_15_percent_more_than_the_best(first: int) -> None:
    over = []
    for seed in range(first, first + 100):
        problem = made_up(seed)
        best = problem.cost(exact_order(problem, precedence(problem)))
        over.append(problem.cost(near_order(problem)) / best)

    assert min(over) > 1 - 1e-9
    assert max(over) <= 1.15
    assert sum(over) / len(over) <= 1.002


def test_near_order_is_never_dearer_than_the_order_of_asking() -> None:
    for seed in range(200):
        problem = made_up(seed)

        assert problem.cost(near_order(problem)) <= problem.cost(list(problem.rows))
