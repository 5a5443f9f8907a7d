"""When a day's dose will be full: at the level of now, and as it has been rising."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_course import Course
from monreq.domain.ear_exposure import dose_is_full
from monreq.domain.ear_forecast import Forecast, forecast, last_forecast
from monreq.domain.setup import Settings
from tests.support.ear_levels import COUPLER, measured_stage
from tests.support.stage import Stage, small_stage

MINUTE_S, HOUR_MS = 60.0, 3_600_000


def rising(by_tenths: int, every_minutes: float, times: int, level: int = 880) -> Stage:
    """Return in-ears whose output goes up evenly."""
    stage = measured_stage(level)
    for _ in range(times):
        stage.wait(every_minutes * MINUTE_S)
        stage.correct("ears", None, level=stage.level("ears", None) + by_tenths)
    return stage


def told(stage: Stage) -> Forecast:
    found = forecast(stage.show, "ears", stage.now_ms)
    assert found is not None
    return found


def test_a_steady_level_fills_the_day_when_its_time_is_over() -> None:
    """Source: NIOSH 98-126, 94 dB(A) for one hour."""
    stage = measured_stage(940)
    began_ms = stage.now_ms
    stage.wait(15 * MINUTE_S)

    found = told(stage)

    assert found.full_ms == pytest.approx(began_ms + HOUR_MS, abs=2)
    assert found.rising_ms is None
    assert found.earliest_ms < found.full_ms


def test_a_level_that_rises_fills_the_day_sooner_by_its_slope() -> None:
    """Worked step by step: 2 dB an hour from now on, added up second by second."""
    stage = rising(10, 30, 3)
    stage.wait(15 * MINUTE_S)
    level = stage.show.ear_levels["ears"][0].course.change_db
    assert level == pytest.approx(3.0)
    slope = stage.show.ear_levels["ears"][0].course.slope_db_per_h(stage.now_ms)
    left = (told(stage).full_ms - stage.now_ms) / HOUR_MS
    gone_h, spent_h = 0.0, 0.0
    while spent_h < left:
        spent_h += 2 ** (slope * (gone_h + 0.5 / 3600) / 3) / 3600
        gone_h += 1 / 3600

    rising_ms = told(stage).rising_ms

    assert slope > 0
    assert rising_ms is not None
    assert (rising_ms - stage.now_ms) / HOUR_MS == pytest.approx(gone_h, rel=1e-3)


def test_careful_end_of_a_rise_is_that_of_a_level_that_was_read_too_low() -> None:
    """Worked step by step: the same rise, from U higher on, until what that leaves is spent (NIOSH 98-126, ISO 9612)."""
    stage = rising(10, 30, 3, level=840)
    stage.wait(15 * MINUTE_S)
    slope = stage.show.ear_levels["ears"][0].course.slope_db_per_h(stage.now_ms)
    found = told(stage)
    left = (found.earliest_ms - stage.now_ms) / HOUR_MS
    gone_h, spent_h = 0.0, 0.0
    while spent_h < left:
        spent_h += 2 ** (slope * (gone_h + 0.5 / 3600) / 3) / 3600
        gone_h += 1 / 3600

    assert found.rising_earliest_ms is not None
    assert (found.rising_earliest_ms - stage.now_ms) / HOUR_MS == pytest.approx(gone_h, rel=1e-3)
    assert found.rising_earliest_ms < min(found.rising_ms or 0, found.earliest_ms)


def test_slope_of_an_even_rise_is_that_rise() -> None:
    """Worked by hand: a tenth of a dB every minute is 6 dB an hour, by least squares over the stairs too."""
    stage = rising(1, 1, 40)

    slope = stage.show.ear_levels["ears"][0].course.slope_db_per_h(stage.now_ms)

    assert slope == pytest.approx(6.0, rel=0.01)


def test_slope_of_one_step_in_the_middle_of_the_window() -> None:
    """Worked by hand: a step of d in the middle of a window of T has the least-squares slope 3 d / (2 T), 9 dB/h here."""
    course = Course.begun(0).turned(HOUR_MS, 3.0)

    assert course.slope_db_per_h(HOUR_MS + HOUR_MS // 4) == pytest.approx(9.0)


def test_what_was_before_the_half_hour_does_not_count() -> None:
    course = Course.begun(0).turned(HOUR_MS, 6.0)

    assert course.slope_db_per_h(2 * HOUR_MS) == pytest.approx(0, abs=1e-9)


def test_silence_is_no_fall() -> None:
    course = Course.begun(0).turned(HOUR_MS // 6, None).turned(HOUR_MS // 3, 0.0)

    assert course.slope_db_per_h(HOUR_MS // 2) == pytest.approx(0, abs=1e-9)


def test_a_few_minutes_are_no_trend() -> None:
    course = Course.begun(0).turned(HOUR_MS // 20, 6.0)

    assert course.slope_db_per_h(HOUR_MS // 10) == 0


def test_steps_are_kept_no_further_back_than_the_trend_goes() -> None:
    stage = rising(1, 1, 200, level=700)

    assert len(stage.show.ear_levels["ears"][0].course.steps) <= 33


def test_a_level_that_falls_is_told_as_if_it_stayed() -> None:
    stage = rising(-10, 5, 6, level=1000)

    assert told(stage).rising_ms is None


def test_what_takes_longer_than_eight_hours_though_it_was_read_too_low_is_not_told() -> None:
    """Worked by hand: 8 h / 2^((80 + 4.44 - 85) / 3) = 9.1 h at the careful end (NIOSH 98-126)."""
    stage = measured_stage(800)

    assert forecast(stage.show, "ears", stage.now_ms) is None


def test_what_takes_less_than_eight_hours_if_it_was_read_too_low_is_told() -> None:
    """Worked by hand: 84 dB(A) is allowed for 10 h, by 4.44 dB more for 3.6 h (NIOSH 98-126)."""
    found = told(measured_stage(840))

    assert found.is_far
    assert (found.earliest_ms - found.as_of_ms) / HOUR_MS == pytest.approx(10.08 / 2.792, rel=1e-3)


def moved_stage(level: int, steps: list[tuple[int, float]]) -> Stage:
    """Return a show whose ear was read at a level, and whose output moved step by step. [0.1 dB, min]."""
    stage = measured_stage(level)
    for tenths, minutes in steps:
        stage.correct("ears", None, level=stage.level("ears", None) + tenths)
        stage.wait(minutes * MINUTE_S)
    return stage


@given(
    steps=st.lists(st.tuples(st.integers(-30, 30), st.floats(0, 90)), max_size=6),
    level=st.integers(800, 1100),
)
def test_the_day_may_be_full_from_the_earliest_moment_that_was_told(
    steps: list[tuple[int, float]], level: int
) -> None:
    stage = moved_stage(level, steps)

    found = forecast(stage.show, "ears", stage.now_ms)

    if found is not None and found.earliest_ms > found.as_of_ms:
        assert not dose_is_full(stage.show, "ears", found.earliest_ms - 2)
        assert dose_is_full(stage.show, "ears", found.earliest_ms + 2)
    elif found is not None:
        assert dose_is_full(stage.show, "ears", stage.now_ms + 2)


def test_a_full_day_is_full_now() -> None:
    stage = measured_stage(1000)
    stage.wait(HOUR_MS / 1000)

    assert told(stage).is_full


@pytest.mark.parametrize("level", [1151, 1200])
def test_what_is_permitted_for_no_time_has_no_forecast(level: int) -> None:
    """Source: 29 CFR 1910.95 Table G-16, which ends at 115 dB(A)."""
    stage = measured_stage(level)
    stage.do(c.ChangeSettings(Settings(exposure_rule="osha")))

    assert forecast(stage.show, "ears", stage.now_ms) is None


def test_a_rise_to_the_ceiling_ends_there() -> None:
    """Source: 29 CFR 1910.95 Table G-16; at 114.8 dB(A) and some dB an hour more, 115 comes long before a quarter hour."""
    stage = rising(1, 1, 12, level=1136)
    stage.do(c.ChangeSettings(Settings(exposure_rule="osha")))
    slope = stage.show.ear_levels["ears"][0].course.slope_db_per_h(stage.now_ms)

    rising_ms = told(stage).rising_ms

    assert rising_ms is not None
    assert (rising_ms - stage.now_ms) / HOUR_MS == pytest.approx(0.2 / slope, rel=1e-3)


def test_nothing_measured_silent_closed_or_unconverted_has_no_forecast() -> None:
    silent, closed, canal = measured_stage(940), measured_stage(940), small_stage()
    silent.correct("ears", None, is_on=False)
    closed.do(c.CloseShow())
    canal.do(m.MeasureEarLevel("ears", 940, COUPLER, is_field_level=False))

    assert last_forecast(small_stage().show, "ears") is None
    assert [last_forecast(stage.show, "ears") for stage in (silent, closed, canal)] == [None] * 3


def test_after_a_day_nothing_is_told() -> None:
    stage = measured_stage(850)
    stage.wait(25 * HOUR_MS / 1000)

    assert forecast(stage.show, "ears", stage.now_ms) is None


def test_what_pages_share_is_a_function_of_the_mix_alone() -> None:
    stage = rising(10, 10, 3)
    before = last_forecast(stage.show, "ears")
    stage.wait(20 * MINUTE_S)
    stage.ask("front", "voice", 30)

    assert before is not None
    assert last_forecast(stage.show, "ears") == before


@given(
    steps=st.lists(st.tuples(st.integers(-30, 30), st.floats(0, 20)), max_size=8),
    level=st.integers(900, 1100),
)
def test_a_forecast_is_never_later_than_at_the_level_of_now(
    steps: list[tuple[int, float]], level: int
) -> None:
    stage = moved_stage(level, steps)

    found = forecast(stage.show, "ears", stage.now_ms)

    if found is not None:
        assert found.earliest_ms <= found.full_ms
        assert (found.rising_ms or -math.inf) <= found.full_ms + 1
        assert (found.rising_earliest_ms or -math.inf) <= min(
            found.rising_ms or math.inf, found.earliest_ms + 1
        )


def test_ten_minutes_are_a_trend() -> None:
    course = Course.begun(0).turned(HOUR_MS // 12, 6.0)

    assert course.slope_db_per_h(HOUR_MS // 6) > 0
