"""Decibels: exact tenths, plain sums, ratios and power sums."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.decibels import amplitude_ratio, net_change, power_ratio, power_sum, to_db, to_tenths
from monreq.domain.refusals import FinerThanTenths, NotAFigure, Refusal

LEVELS = st.lists(st.integers(-1200, 1200).map(to_db), min_size=1, max_size=20)


@pytest.mark.parametrize(
    ("db", "tenths"), [(0, 0), (-0.0, 0), (-4.5, -45), (0.1, 1), (0.3, 3), (12, 120), (-90.0, -900)]
)
def test_figure_in_tenths_is_taken_exactly(db: float, tenths: int) -> None:
    assert to_tenths(db) == tenths


@pytest.mark.parametrize("db", [0.05, -4.55, 0.1 + 0.2, 1e-9, 1 / 3])
def test_figure_finer_than_tenths_is_refused(db: float) -> None:
    with pytest.raises(FinerThanTenths):
        to_tenths(db)


@pytest.mark.parametrize("db", [math.inf, -math.inf, math.nan, 1e308, -1.7e308, 10**400])
def test_figure_that_is_none_is_refused(db: float) -> None:
    with pytest.raises(NotAFigure):
        to_tenths(db)


@given(st.integers(-(10**6), 10**6))
def test_tenths_survive_the_way_through_db(tenths: int) -> None:
    assert to_tenths(to_db(tenths)) == tenths


@given(st.floats() | st.integers())
def test_any_figure_is_taken_or_refused(db: float) -> None:
    try:
        tenths = to_tenths(db)
    except Refusal:
        return

    assert to_db(tenths) == db


@pytest.mark.parametrize(
    ("changes", "net"),
    [([], 0.0), ([3, 3, -1], 5.0), ([0.1] * 10, 1.0), ([6, -6], 0.0), ([1e16, 1, -1e16], 1.0)],
)
def test_changes_add_as_plain_numbers(changes: list[float], net: float) -> None:
    assert net_change(changes) == net


def test_six_db_is_about_twice_the_amplitude_and_four_times_the_power() -> None:
    assert amplitude_ratio(6) == pytest.approx(1.99526, abs=1e-5)
    assert power_ratio(6) == pytest.approx(3.98107, abs=1e-5)


@given(st.floats(-200, 200))
def test_ratios_turn_back_into_their_level(db: float) -> None:
    assert 20 * math.log10(amplitude_ratio(db)) == pytest.approx(db, abs=1e-9)
    assert 10 * math.log10(power_ratio(db)) == pytest.approx(db, abs=1e-9)


def test_power_sum_of_nothing_is_silence() -> None:
    assert power_sum([]) == -math.inf
    assert power_sum([-math.inf, -math.inf]) == -math.inf


def test_power_sum_of_one_is_itself() -> None:
    assert power_sum([-4.5]) == -4.5


def test_power_sum_of_levels_far_from_zero_neither_overflows_nor_vanishes() -> None:
    assert power_sum([5000.0, 5000.0]) == pytest.approx(5003.0103, abs=1e-4)
    assert power_sum([-5000.0, -5000.0]) == pytest.approx(-4996.9897, abs=1e-4)


def test_power_sum_takes_levels_that_can_be_read_only_once() -> None:
    assert power_sum(iter([90.0, 90.0])) == power_sum([90.0, 90.0])


@given(LEVELS)
def test_power_sum_lies_between_the_loudest_and_as_many_of_it(levels: list[float]) -> None:
    total = power_sum(levels)

    assert max(levels) <= total <= max(levels) + 10 * math.log10(len(levels)) + 1e-9


@given(LEVELS, st.floats(-60, 60))
def test_power_sum_moves_with_all_its_levels(levels: list[float], change: float) -> None:
    moved = power_sum(level + change for level in levels)

    assert moved == pytest.approx(power_sum(levels) + change, abs=1e-9)


@pytest.mark.parametrize("figure", [math.nan, math.inf])
def test_sums_of_what_is_no_figure_are_refused(figure: float) -> None:
    for levels in ([figure], [figure, 3.0], [3.0, figure]):
        with pytest.raises(NotAFigure):
            power_sum(levels)
        with pytest.raises(NotAFigure):
            net_change(levels)


def test_changes_that_come_to_more_than_every_number_are_refused() -> None:
    with pytest.raises(NotAFigure):
        net_change([1e308, 1e308])


@pytest.mark.parametrize("figure", [math.nan, math.inf, 1e9, 10**400])
def test_ratio_that_is_no_figure_is_refused(figure: float) -> None:
    with pytest.raises(NotAFigure):
        power_ratio(figure)
    with pytest.raises(NotAFigure):
        amplitude_ratio(figure)
