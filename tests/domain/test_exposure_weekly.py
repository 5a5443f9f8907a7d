"""Exposure over a week: points of days, the level they come to, and the weekly allowance."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.exposure_weekly import (
    CHILDREN_DBA,
    allowance_hours,
    allowance_percent,
    daily_points,
    points_of_day,
    weekly_level,
)
from monreq.domain.refusals import (
    NoSoundLevel,
    NotAFigure,
    NothingHeard,
    NothingMeasured,
    NotLikeThis,
    TimeOutOfRange,
)


def test_week_of_five_full_days_is_the_upper_action_value() -> None:
    assert weekly_level([daily_points([(85.0, 8.0)])] * 5) == pytest.approx(85.0)


@given(st.lists(st.floats(60, 100), min_size=5, max_size=5))
def test_week_of_five_days_lies_between_its_quietest_and_loudest(days: list[float]) -> None:
    level = weekly_level(points_of_day(day) for day in days)

    assert min(days) - 1e-9 <= level <= max(days) + 1e-9


@pytest.mark.parametrize(
    ("points", "refusal"),
    [
        ([], NothingMeasured),
        ([0.0, 0.0], NothingHeard),
        ([100.0, -1.0], NothingHeard),
        ([math.nan], NotAFigure),
        ([1e308, 1e308], NotAFigure),
    ],
)
def test_week_of_what_cannot_be_is_refused(points: list[float], refusal: type[NotLikeThis]) -> None:
    with pytest.raises(refusal):
        weekly_level(points)


def test_allowance_of_children_is_less() -> None:
    assert allowance_hours(80.0, CHILDREN_DBA) == pytest.approx(40 / 2 ** (5 / 3))


def test_allowance_adds_up_over_a_week() -> None:
    assert allowance_percent([(80.0, 20.0), (83.0, 5.0)]) == pytest.approx(75.0)


@pytest.mark.parametrize(
    ("segments", "refusal"),
    [
        ([], NothingMeasured),
        ([(90.0, -1.0)], TimeOutOfRange),
        ([(-6.0, 1.0)], NoSoundLevel),
        ([(math.inf, 1.0)], NotAFigure),
    ],
)
def test_allowance_of_what_cannot_be_is_refused(
    segments: list[tuple[float, float]], refusal: type[NotLikeThis]
) -> None:
    with pytest.raises(refusal):
        allowance_percent(segments)
    with pytest.raises(refusal):
        daily_points(segments)
