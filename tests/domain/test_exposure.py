"""Exposure by three rules: allowed time, dose, averages, time left, and the limits with their standing."""

import math
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.exposure import (
    RuleName,
    allowed_hours,
    daily_exposure_level,
    dose_percent,
    hours_left,
    time_factor,
    time_weighted_average,
)
from monreq.domain.exposure_limits import action_level, ceiling, threshold, value_reached
from monreq.domain.refusals import (
    BeyondBelief,
    NoSoundLevel,
    NotAFigure,
    NothingHeard,
    NothingMeasured,
    NotLikeThis,
    TimeOutOfRange,
    UnknownRule,
)

ALL_RULES: tuple[RuleName, ...] = ("niosh", "osha", "eu")
RULES = st.sampled_from(ALL_RULES)
LEVELS = st.floats(0, 140)
HOURS = st.floats(0, 24)
DAYS = st.lists(st.tuples(LEVELS, HOURS), min_size=1, max_size=10)
NO_SEGMENTS = [
    ([], NothingMeasured),
    ([(math.nan, 1.0)], NotAFigure),
    ([(90.0, math.inf)], NotAFigure),
    ([(90.0, -0.1)], TimeOutOfRange),
    ([(90.0, 168.1)], TimeOutOfRange),
    ([(-12.0, 1.0)], NoSoundLevel),
    ([(194.1, 1.0)], NoSoundLevel),
]


@pytest.mark.parametrize(("rule", "halving_db"), [("niosh", 3.0), ("osha", 5.0), ("eu", 10 * math.log10(2))])
def test_allowed_time_halves(rule: RuleName, halving_db: float) -> None:
    assert time_factor(halving_db, rule) == pytest.approx(0.5)
    assert allowed_hours(90 + halving_db, rule) == pytest.approx(allowed_hours(90, rule) / 2)


@given(st.floats(-200, 300), RULES)
def test_allowed_time_is_the_bare_formula_at_any_level(level: float, rule: RuleName) -> None:
    louder = allowed_hours(level + 1, rule)

    assert 0 < louder < allowed_hours(level, rule)
    assert louder == pytest.approx(allowed_hours(level, rule) * time_factor(1, rule))


@pytest.mark.parametrize("rule", ALL_RULES)
def test_allowed_time_where_floats_end_is_none_or_endless(rule: RuleName) -> None:
    assert allowed_hours(1e300, rule) == 0.0
    assert allowed_hours(-1e300, rule) == math.inf


@pytest.mark.parametrize("level", [math.nan, math.inf, -math.inf])
def test_allowed_time_at_what_is_no_level_is_refused(level: float) -> None:
    with pytest.raises(NotAFigure):
        allowed_hours(level, "niosh")


@given(LEVELS, RULES)
def test_dose_of_all_the_allowed_time_is_full(level: float, rule: RuleName) -> None:
    hours = min(allowed_hours(level, rule), 24.0)

    assert dose_percent([(level, hours)], rule) == pytest.approx(100 * hours / allowed_hours(level, rule))


@given(DAYS, LEVELS, HOURS, RULES)
def test_dose_never_falls_by_more_time(
    day: list[tuple[float, float]], level: float, hours: float, rule: RuleName
) -> None:
    assert dose_percent([*day, (level, hours)], rule) >= dose_percent(day, rule)


@given(LEVELS, st.floats(0, 50), HOURS, RULES)
def test_dose_never_falls_by_more_level(level: float, louder: float, hours: float, rule: RuleName) -> None:
    assert dose_percent([(level + louder, hours)], rule) >= dose_percent([(level, hours)], rule)


@given(DAYS, RULES)
def test_dose_is_free_of_order(day: list[tuple[float, float]], rule: RuleName) -> None:
    assert dose_percent(day[::-1], rule) == dose_percent(day, rule)


def test_dose_of_no_time_is_nothing() -> None:
    assert dose_percent([(100.0, 0.0)], "niosh") == 0.0


@pytest.mark.parametrize(("segments", "refusal"), NO_SEGMENTS)
def test_dose_of_what_cannot_be_is_refused(
    segments: list[tuple[float, float]], refusal: type[NotLikeThis]
) -> None:
    with pytest.raises(refusal):
        dose_percent(segments, "osha")
    with pytest.raises(refusal):
        daily_exposure_level(segments)


@given(st.floats(40, 130), RULES)
def test_average_of_eight_hours_at_one_level_is_about_that_level(level: float, rule: RuleName) -> None:
    average = time_weighted_average(dose_percent([(level, 8.0)], rule), rule)

    assert average == pytest.approx(level, abs=0.2)  # NIOSH's halving per 3 dB is not quite energy


@pytest.mark.parametrize("dose", [0.0, -1.0])
def test_average_of_silence_is_refused(dose: float) -> None:
    with pytest.raises(NothingHeard):
        time_weighted_average(dose, "niosh")


def test_daily_exposure_level_of_no_time_is_refused() -> None:
    with pytest.raises(NothingHeard):
        daily_exposure_level([(100.0, 0.0)])


def test_average_of_what_is_no_dose_is_refused() -> None:
    with pytest.raises(NotAFigure):
        time_weighted_average(math.nan, "eu")


def test_time_left_is_what_the_dose_leaves() -> None:
    assert hours_left(0.0, 88.0, "niosh") == 4.0
    assert hours_left(75.0, 88.0, "niosh") == 1.0
    assert hours_left(130.0, 88.0, "niosh") == 0.0


@given(st.floats(0, 99), st.floats(60, 120), RULES)
def test_time_left_fills_the_dose(dose: float, level: float, rule: RuleName) -> None:
    hours = hours_left(dose, level, rule)

    if hours <= 168:
        assert dose + dose_percent([(level, hours)], rule) == pytest.approx(100)


@pytest.mark.parametrize(("dose", "level"), [(math.nan, 90.0), (math.inf, 90.0), (10.0, math.nan)])
def test_time_left_after_what_is_no_figure_is_refused(dose: float, level: float) -> None:
    with pytest.raises(NotAFigure):
        hours_left(dose, level, "eu")


@pytest.mark.parametrize(("change", "refusal"), [(math.nan, NotAFigure), (121.0, BeyondBelief)])
def test_time_factor_of_what_is_no_change_is_refused(change: float, refusal: type[NotLikeThis]) -> None:
    with pytest.raises(refusal):
        time_factor(change, "niosh")


def test_unknown_rule_is_refused_everywhere() -> None:
    rule = cast(RuleName, "ours")

    for ask in (threshold, ceiling, action_level):
        with pytest.raises(UnknownRule):
            ask(rule)
    with pytest.raises(UnknownRule):
        allowed_hours(90.0, rule)
    with pytest.raises(UnknownRule):
        dose_percent([(90.0, 1.0)], rule)


def test_european_rule_has_no_threshold() -> None:
    assert threshold("eu") is None


@pytest.mark.parametrize("rule", ALL_RULES)
def test_limits_say_where_they_stand(rule: RuleName) -> None:
    limits = [threshold(rule), ceiling(rule), action_level(rule)]

    assert all(limit.source and limit.unit.startswith("dB") for limit in limits if limit is not None)


@pytest.mark.parametrize(
    ("level", "name"),
    [
        (79.9, None),
        (80.0, "lower exposure action value"),
        (86.9, "upper exposure action value"),
        (87.0, "exposure limit value"),
    ],
)
def test_highest_european_value_that_a_day_reaches(level: float, name: str | None) -> None:
    value = value_reached(level)

    assert (value and value.name) == name


def test_european_value_of_what_is_no_level_is_refused() -> None:
    with pytest.raises(NoSoundLevel):
        value_reached(-5.0)
