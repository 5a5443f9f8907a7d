"""What to do first: the order's cost against every other order, against known rules, and against nonsense."""

import math
import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.domain.gap_plan import Row, plan
from monreq.domain.plan_refusals import BadTime, BadWeight, NoGap, RowTwice
from tests.support.gap_plans import MIXES, Evening, evenings, row_lists

LITTLE = 1e-9
UNHURRIED = settings(deadline=None)
FEW = settings(deadline=None, max_examples=60)


@UNHURRIED
@given(evenings(40))
def test_plan_is_a_permutation_and_never_dearer_than_the_order_of_asking(evening: Evening) -> None:
    planned = evening.plan()

    assert sorted(planned.order) == sorted(row.id for row in evening.rows)
    assert planned.cost <= evening.cost(evening.rows)


@UNHURRIED
@given(evenings(40))
def test_plan_costs_what_it_says(evening: Evening) -> None:
    planned = evening.plan()

    assert planned.cost == pytest.approx(evening.cost(evening.in_order(planned.order)), rel=LITTLE)


@FEW
@given(evenings(7))
def test_plan_of_seven_rows_costs_as_little_as_any_order(evening: Evening) -> None:
    planned = evening.plan()

    assert planned.is_exact
    assert planned.cost == pytest.approx(evening.least_cost(), rel=LITTLE)


@FEW
@given(evenings(6))
def test_plan_of_rows_that_are_mostly_alone_in_their_mixes_costs_as_little_as_any_order(
    evening: Evening,
) -> None:
    rows = (*evening.rows[:1], *(replace(row, mix=row.id) for row in evening.rows[1:]))
    alone = replace(evening, rows=rows)

    assert alone.plan().cost == pytest.approx(alone.least_cost(), rel=LITTLE)


def test_plan_of_many_rows_alone_in_their_mixes_is_exact_and_does_the_heaviest_first() -> None:
    rows = tuple(Row(str(number), f"mix{number}", 4.0, 1.0 + number) for number in range(24))

    planned = plan(rows, 30.0, setup_s=6.0, song_s=240.0)

    assert planned.is_exact
    assert planned.order == tuple(row.id for row in reversed(rows))


@UNHURRIED
@given(evenings(10))
def test_plan_of_ten_rows_is_exact(evening: Evening) -> None:
    assert evening.plan().is_exact


@UNHURRIED
@given(row_lists(40), st.sampled_from((None, *MIXES)))
def test_plan_without_set_ups_in_an_endless_gap_follows_the_smallest_ratio(
    rows: tuple[Row, ...], at_mix: str | None
) -> None:
    evening = Evening(rows, at_mix=at_mix)

    smallest_ratio_first = sorted(rows, key=lambda row: row.move_s / row.weight)

    assert evening.plan().cost == pytest.approx(evening.cost(smallest_ratio_first), rel=LITTLE)
    assert evening.plan().is_exact


@UNHURRIED
@given(evenings(40))
def test_plan_costs_no_less_than_any_order_can(evening: Evening) -> None:
    planned = evening.plan()

    assert planned.least_cost <= planned.cost * (1 + LITTLE)


@FEW
@given(evenings(6))
def test_no_order_at_all_undercuts_the_least_cost(evening: Evening) -> None:
    assert evening.plan().least_cost <= evening.least_cost() * (1 + LITTLE)


@UNHURRIED
@given(evenings(30))
def test_plan_is_the_same_for_the_same_rows(evening: Evening) -> None:
    assert evening.plan() == replace(evening).plan()


@UNHURRIED
@given(evenings(30))
def test_plan_tells_what_is_done_within_the_gap(evening: Evening) -> None:
    planned = evening.plan()

    assert planned.in_gap == planned.order[: len(planned.in_gap)]
    assert all((end_s <= evening.gap_s) == (row in planned.in_gap) for row, end_s in planned_ends(evening))


def planned_ends(evening: Evening) -> list[tuple[str, float]]:
    planned = evening.plan()
    return list(zip(planned.order, planned.ends_s, strict=True))


def crowd(seed: int, rows: int, mixes: int) -> Evening:
    """Make up a full queue, always the same for a seed."""
    chance = random.Random(seed)
    return Evening(
        tuple(
            Row(
                f"r{place}",
                f"mix{chance.randrange(mixes)}",
                chance.choice((2.0, 3.0, 4.0, 6.0, 9.0)),
                chance.choice((1.0, 1.5, 2.0, 3.0)) * 2.0 ** chance.randrange(5),
            )
            for place in range(rows)
        ),
        gap_s=chance.choice((20.0, 60.0, math.inf)),
        setup_s=chance.choice((3.0, 6.0, 10.0)),
        song_s=chance.choice((0.0, 60.0, 240.0)),
    )


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize(("rows", "mixes"), [(25, 7), (60, 10), (200, 24), (1000, 24)])
def test_plan_of_a_long_list_is_within_a_fifth_of_what_no_order_undercuts(
    seed: int, rows: int, mixes: int
) -> None:
    planned = crowd(seed, rows, mixes).plan()

    assert planned.least_cost <= planned.cost <= 1.2 * planned.least_cost


def test_plan_of_nothing_is_empty() -> None:
    planned = Evening(()).plan()

    assert planned.order == ()
    assert planned.cost == 0


def test_plan_leaves_rows_of_equal_worth_in_the_order_of_asking() -> None:
    rows = tuple(Row(f"r{place}", "front", 4, 1) for place in range(30))

    assert Evening(rows, 50, 6, 240).plan().order == tuple(row.id for row in rows)


def test_plan_stays_at_the_mix_the_desk_is_on() -> None:
    rows = (Row("a", "front", 4, 1), Row("b", "ears", 4, 1))

    assert Evening(rows, setup_s=6, at_mix="ears").plan().order == ("b", "a")
    assert Evening(rows, setup_s=6, at_mix="elsewhere").plan().order == ("a", "b")


def test_plan_leaves_a_mix_and_comes_back_where_that_pays() -> None:
    rows = (Row("small", "front", 30, 1), Row("heavy", "ears", 3, 50), Row("quick", "front", 2, 20))

    assert Evening(rows, setup_s=5, at_mix="front").plan().order == ("quick", "heavy", "small")


def test_plan_puts_what_still_fits_before_what_cannot_fit() -> None:
    rows = (Row("long", "front", 50, 11), Row("short", "front", 10, 1))

    assert Evening(rows, gap_s=20, song_s=240).plan().order == ("short", "long")
    assert Evening(rows, gap_s=math.inf, song_s=240).plan().order == ("long", "short")


def test_row_that_ends_with_the_gap_is_done_within_it() -> None:
    planned = plan([Row("a", "front", 4, 1)], 10, setup_s=6, song_s=240)

    assert planned.in_gap == ("a",)
    assert planned.cost == 10


@pytest.mark.parametrize("gap_s", [0.0, -1.0, -math.inf])
def test_gap_that_is_none_is_refused(gap_s: float) -> None:
    with pytest.raises(NoGap):
        Evening((), gap_s).plan()


@pytest.mark.parametrize("time_s", [-0.25, math.nan, math.inf, 1e9])
def test_time_that_makes_no_sense_is_refused(time_s: float) -> None:
    row = Row("a", "front", 4, 1)

    with pytest.raises(BadTime):
        Evening((row,), setup_s=time_s).plan()
    with pytest.raises(BadTime):
        Evening((row,), song_s=time_s).plan()
    with pytest.raises(BadTime):
        Evening((replace(row, move_s=time_s),)).plan()


@pytest.mark.parametrize("gap_s", [math.nan, 1e9])
def test_gap_that_makes_no_sense_is_refused(gap_s: float) -> None:
    with pytest.raises(BadTime):
        Evening((), gap_s).plan()


@pytest.mark.parametrize("weight", [0.0, -1.0, math.nan, math.inf, 1e300])
def test_weight_that_makes_no_sense_is_refused(weight: float) -> None:
    with pytest.raises(BadWeight):
        Evening((Row("a", "front", 4, weight),)).plan()


def test_row_that_stands_twice_is_refused() -> None:
    with pytest.raises(RowTwice):
        Evening((Row("a", "front", 4, 1), Row("a", "ears", 4, 1))).plan()
