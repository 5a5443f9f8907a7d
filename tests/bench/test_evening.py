"""What the gap plan is for: less waiting for those who need it most, and nobody waiting longer."""

from tests.bench.evening import LOADS, ByPlan, evening, no_guess, outcome, summary
from tests.support.one_engineer import first_come

EVENINGS = [evening(seed, LOADS["usual"]) for seed in range(12)]


def test_gap_plan_spares_a_quarter_of_the_weighted_waiting_without_a_longer_worst() -> None:
    by_turns = summary(EVENINGS, lambda _: first_come)

    by_plan = summary(EVENINGS, lambda _: ByPlan())

    assert by_plan.weighted_s <= 0.75 * by_turns.weighted_s
    assert by_plan.worst_s <= by_turns.worst_s


def test_gap_plan_needs_no_guess_of_the_gap_to_do_so() -> None:
    by_turns = summary(EVENINGS, lambda _: first_come)

    by_plan = summary(EVENINGS, lambda _: ByPlan(guess_s=no_guess))

    assert by_plan.weighted_s <= 0.75 * by_turns.weighted_s
    assert by_plan.worst_s <= by_turns.worst_s


def test_evening_is_the_same_for_a_seed_and_another_for_another() -> None:
    assert evening(1, 4) == evening(1, 4)
    assert evening(1, 4) != evening(2, 4)


def test_every_job_of_an_evening_is_done_once_or_left() -> None:
    one = evening(3, LOADS["heavy"])

    assert outcome(one, first_come).left > 0
    assert outcome(one, ByPlan()).left < outcome(one, first_come).left
