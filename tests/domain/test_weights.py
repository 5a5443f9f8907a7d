"""Weights: what they grow with, and that nobody starves."""

import math
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.domain.gap_plan import Row, plan
from monreq.domain.plan_refusals import BadCount, BadTime
from monreq.domain.weights import HEAVIEST_FRESH, MOST_ASKS, gaps_until_done, weight

ROUND_S = 300.0
MOVE_S = 4.0
UNHURRIED = settings(deadline=None)
ASKS = st.integers(1, 1000)
WAITS = st.floats(0, 50 * ROUND_S)


def test_first_ask_weighs_one() -> None:
    assert weight(1, 0, round_s=ROUND_S) == 1


def test_each_further_ask_weighs_more_up_to_the_fifth() -> None:
    weights = [weight(asks, 0, round_s=ROUND_S) for asks in range(1, MOST_ASKS + 2)]

    assert weights == [1, 1.5, 2, 2.5, 3, 3]


@given(ASKS, WAITS, WAITS)
def test_weight_never_falls_while_waiting(asks: int, one_s: float, other_s: float) -> None:
    shorter_s, longer_s = sorted((one_s, other_s))

    assert weight(asks, shorter_s, round_s=ROUND_S) <= weight(asks, longer_s, round_s=ROUND_S)


@given(ASKS, ASKS, st.floats(2 * ROUND_S, 50 * ROUND_S))
def test_any_row_outweighs_any_row_just_asked_after_two_rounds(
    asks: int, fresh: int, waited_s: float
) -> None:
    assert weight(asks, waited_s, round_s=ROUND_S) > weight(fresh, 0, round_s=ROUND_S)


@given(ASKS, ASKS, st.floats(3 * ROUND_S, 50 * ROUND_S), st.floats(0, ROUND_S))
def test_any_row_outweighs_any_row_of_the_last_round_after_three(
    asks: int, fresh: int, waited_s: float, fresh_s: float
) -> None:
    assert weight(asks, waited_s, round_s=ROUND_S) > weight(fresh, fresh_s, round_s=ROUND_S)


def test_weight_stays_finite_however_long_a_row_waits() -> None:
    assert math.isfinite(weight(1000, 1e7, round_s=1e-3))


@dataclass(frozen=True)
class Stage:
    """What the desk needs for a move, and one row that is up against others asked since the last gap."""

    fresh: tuple[Row, ...]
    gap_s: float
    setup_s: float
    song_s: float

    def order(self, waited_rounds: int) -> tuple[str, ...]:
        old = Row("old", "alone", MOVE_S, weight(1, waited_rounds * ROUND_S, round_s=ROUND_S))
        rows = (*self.fresh, old)
        planned = plan(rows, self.gap_s, setup_s=self.setup_s, song_s=self.song_s, at_mix="front")
        return planned.in_gap

    @property
    def bound(self) -> int:
        return gaps_until_done(
            move_s=MOVE_S, setup_s=self.setup_s, song_s=self.song_s, others=len(self.fresh)
        )


@st.composite
def stages(draw: st.DrawFn, fewest: int, most: int) -> Stage:
    setup_s = draw(st.integers(0, 12))
    figures = st.tuples(st.sampled_from(("front", "left", "ears")), ASKS, st.floats(0, ROUND_S))
    drawn = draw(st.lists(figures, min_size=fewest, max_size=most))
    return Stage(
        fresh=tuple(
            Row(f"r{place}", mix, MOVE_S, weight(asks, waited_s, round_s=ROUND_S))
            for place, (mix, asks, waited_s) in enumerate(drawn)
        ),
        gap_s=draw(st.integers(setup_s + math.ceil(MOVE_S), 60)),
        setup_s=setup_s,
        song_s=draw(st.integers(30, 400)),
    )


@UNHURRIED
@given(stages(0, 9))
def test_no_row_starves_in_an_exact_plan(stage: Stage) -> None:
    assert "old" in stage.order(stage.bound)


@settings(deadline=None, max_examples=50)
@given(stages(24, 40))
def test_no_row_starves_in_a_plan_near_the_best(stage: Stage) -> None:
    assert "old" in stage.order(stage.bound)


def test_row_alone_in_its_mix_is_put_off_only_at_first() -> None:
    fresh = tuple(Row(f"r{place}", "front", MOVE_S, HEAVIEST_FRESH) for place in range(9))
    stage = Stage(fresh, gap_s=20, setup_s=6, song_s=240)

    assert "old" not in stage.order(0)
    assert "old" in stage.order(stage.bound)


def test_bound_of_a_usual_evening_is_six_gaps() -> None:
    assert gaps_until_done(move_s=4, setup_s=6, song_s=240, others=50) == 6


def test_heaviest_fresh_row_is_what_the_bound_reckons_with() -> None:
    assert weight(10**6, 0, round_s=ROUND_S) == HEAVIEST_FRESH


def test_row_that_nobody_asked_has_no_weight() -> None:
    with pytest.raises(BadCount):
        weight(0, 0, round_s=ROUND_S)


@pytest.mark.parametrize("time_s", [-1, math.nan, math.inf])
def test_time_that_makes_no_sense_is_refused(time_s: float) -> None:
    with pytest.raises(BadTime):
        weight(1, time_s, round_s=ROUND_S)
    with pytest.raises(BadTime):
        weight(1, 0, round_s=time_s)
    with pytest.raises(BadTime):
        gaps_until_done(move_s=time_s, setup_s=6, song_s=240, others=5)


def test_round_without_length_is_refused() -> None:
    with pytest.raises(BadTime):
        weight(1, 0, round_s=0)


def test_fewer_others_than_none_are_refused() -> None:
    with pytest.raises(BadCount):
        gaps_until_done(move_s=4, setup_s=6, song_s=240, others=-1)
