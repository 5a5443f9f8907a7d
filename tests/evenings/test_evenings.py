"""A few whole evenings from fixed seeds: what they find fails, and so does what they do not reach."""

import sys

from tests.evenings.coverage import Reached, missed, summary
from tests.evenings.evening import play

SEEDS = (2, 5)
"""chosen: about a minute on a quiet machine; together they reach everything. Longer: python -m tests.bench.evenings"""


def test_whole_evenings_reach_everything_and_no_judge_finds_fault() -> None:
    """One test, because what is reached is counted over all evenings."""
    reached = Reached()
    for seed in SEEDS:
        told = play(seed)
        reached.add(told.reached)
        sys.stdout.write(f"seed {seed}: {told.steps} steps\n")
    sys.stdout.write(f"{summary(reached)}\n")

    assert missed(reached) == []
