"""What a level measured at the ear comes to over an evening."""

from dataclasses import replace
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.ear_levels import level_at_ear
from monreq.domain.exposure import RuleName, dose_percent
from monreq.domain.fold import fold
from monreq.domain.measuring_events import EarLevelMeasured
from monreq.domain.show import Show
from tests.support.ear_levels import (
    AT_THE_EAR,
    COUPLER,
    dose,
    exposure,
    left_h,
    measured_stage,
    points,
    under,
)
from tests.support.stage import Stage, small_stage

HOUR_S = 3600.0


@pytest.mark.parametrize(
    ("rule", "level", "hours", "percent"),
    [
        ("niosh", 850, 8, 100),
        ("niosh", 940, 1, 100),
        ("niosh", 1000, 0.25, 100),
        ("osha", 900, 8, 100),
        ("osha", 950, 4, 100),
        ("osha", 1150, 0.25, 100),
        ("eu", 850, 8, 100),
        ("eu", 950, 0.8, 100),
    ],
)
def test_a_steady_level_fills_the_day_as_the_rule_has_it(
    rule: RuleName, level: int, hours: float, percent: float
) -> None:
    """Sources: NIOSH 98-126, 8 / 2^((L - 85) / 3); 29 CFR 1910.95 Table G-16; LEX,8h by ISO 1999, 95 dB(A) for 0.8 h."""
    stage = measured_stage(level)
    under(stage, rule)

    stage.wait(hours * HOUR_S)

    assert dose(stage) == pytest.approx(percent)
    assert left_h(stage) == pytest.approx(0, abs=1e-9)
    assert exposure(stage).counted_h == pytest.approx(hours)


def test_a_raise_counts_from_when_it_was_made() -> None:
    """Worked by hand: 85 dB(A) for four hours is a half; 3 dB more for two hours is the other half (NIOSH 98-126)."""
    stage = measured_stage(850)

    stage.wait(4 * HOUR_S)
    half = dose(stage), exposure(stage).level_dba, left_h(stage)
    stage.correct("ears", None, level=-70)
    stage.wait(1 * HOUR_S)

    assert half == pytest.approx((50, 85, 4))
    assert exposure(stage).level_dba == pytest.approx(88)
    assert dose(stage) == pytest.approx(75)
    assert left_h(stage) == pytest.approx(1)


def test_equal_doses_of_the_trade_guidance() -> None:
    """Source: HSE 'Sound advice' (HSG260), paras 1.18-1.21: 105 dB(A) for 5 minutes, 94 for 60, 88 for 240 are alike."""
    levels = []
    for level, minutes in ((1050, 5), (940, 60), (880, 240)):
        stage = measured_stage(level)
        stage.wait(minutes * 60)
        levels.append(points(stage))

    assert levels == pytest.approx([100] * 3, rel=0.07)


def test_weekly_figures_go_with_the_same_segments() -> None:
    """Sources: HSE weekly ready-reckoner, 100 points are 85 dB(A) for 8 h; ITU-T H.870 with WHO, 80 dB(A) for 40 h."""
    stage = measured_stage(850)
    stage.wait(8 * HOUR_S)

    of_week = exposure(stage).allowance_percent

    assert points(stage) == pytest.approx(100)
    assert of_week is not None
    assert of_week.about == pytest.approx(100 * 8 / (40 / 2 ** (5 / 3)))


def test_a_closed_show_stops_the_clock() -> None:
    stage = measured_stage(940)
    stage.wait(HOUR_S / 2)
    stage.do(c.CloseShow())

    stage.wait(5 * HOUR_S)

    assert dose(stage) == pytest.approx(50)


def test_an_in_ear_pair_that_is_silent_stops_the_clock() -> None:
    stage = measured_stage(940)
    stage.correct("ears", None, is_on=False)

    stage.wait(HOUR_S)

    found = exposure(stage)
    assert (dose(stage), found.counted_h, found.level_dba, found.left_h) == (0, 0, None, None)


def test_a_level_measured_later_counts_from_then_on() -> None:
    """Worked by hand: an hour at 94 dB(A) is a day; half an hour at 97 another (NIOSH 98-126)."""
    stage = measured_stage(940)
    stage.wait(HOUR_S)
    stage.do(m.MeasureEarLevel("ears", 970, COUPLER))
    stage.wait(HOUR_S / 2)

    assert dose(stage) == pytest.approx(200)
    assert exposure(stage).level_dba == 97


def test_a_level_that_was_wrong_is_replaced_from_when_it_was_entered() -> None:
    stage = measured_stage(1240)
    stage.wait(HOUR_S)

    stage.do(m.MeasureEarLevel("ears", 940, AT_THE_EAR, is_correction=True))

    (only,) = stage.show.ear_levels["ears"]
    assert (only.level_tenths, only.how) == (940, AT_THE_EAR)
    assert dose(stage) == pytest.approx(100)


def test_a_correction_of_nothing_is_a_first_level() -> None:
    stage = small_stage()

    (event,) = stage.do(m.MeasureEarLevel("ears", 940, COUPLER, is_correction=True))

    assert event == EarLevelMeasured("ears", 940, COUPLER)
    assert level_at_ear(stage.show, "ears") == 94


def test_counting_ends_after_a_day_and_the_next_level_begins_another() -> None:
    stage = measured_stage(850)
    stage.wait(30 * HOUR_S)

    over = exposure(stage)
    stage.do(m.MeasureEarLevel("ears", 850, COUPLER))

    assert (over.counted_h, over.is_day_over) == (24, True)
    assert over.dose_percent is not None
    assert over.dose_percent.about == pytest.approx(300)
    assert (dose(stage), exposure(stage).is_day_over) == (0, False)


def test_nothing_measured_is_no_exposure() -> None:
    stage = small_stage()

    assert ear_exposure(stage.show, "ears", stage.now_ms) is None
    assert level_at_ear(stage.show, "ears") is None


def test_a_clock_that_was_set_back_takes_nothing_off() -> None:
    stage = measured_stage(940)
    stage.wait(HOUR_S)
    stage.correct("ears", None, level=-110)
    before = dose(stage)

    stage.wait(-2 * HOUR_S)
    stage.correct("ears", "voice", level=-260)

    assert before == pytest.approx(100)
    assert dose(stage) == before


STEPS = st.lists(
    st.tuples(st.floats(0, 4 * HOUR_S), st.integers(-600, 100), st.booleans()), min_size=1, max_size=8
)


@given(rule=st.sampled_from(get_args(RuleName)), level=st.integers(400, 1400), steps=STEPS)
def test_dose_never_falls_whatever_the_mix_does(
    rule: RuleName, level: int, steps: list[tuple[float, int, bool]]
) -> None:
    stage = measured_stage(level)
    under(stage, rule)
    doses = []

    for seconds, output, is_on in steps:
        stage.correct("ears", None, level=output, is_on=is_on)
        stage.wait(seconds)
        doses.append(dose(stage))

    assert doses == sorted(doses)


@given(change=st.integers(-600, 0), raised=st.integers(1, 100))
def test_louder_is_never_allowed_longer(change: int, raised: int) -> None:
    stage = measured_stage(850)
    stage.correct("ears", None, level=change)
    softer = left_h(stage)
    stage.correct("ears", None, level=change + raised)

    louder = left_h(stage)

    assert louder < softer


# Against the log: what is kept in the state is what going through all of it again comes to.


def told_by_the_log(stage: Stage, mix: str, rule: RuleName) -> float:
    """Go through the log, from one event to the next, by the levels as they were then."""
    segments, show = [], Show(stage.show.id)
    last = stage.log[-1]
    for recorded, after in zip(stage.log, [*stage.log[1:], replace(last, at_ms=stage.now_ms)], strict=True):
        show = fold(show, [recorded])
        level = level_at_ear(show, mix) if mix in show.mixes else None
        if level is not None and after.at_ms > recorded.at_ms:
            segments.append((level, (after.at_ms - recorded.at_ms) / 3_600_000))
    return dose_percent(segments, rule) if segments else 0.0


MOVES = st.lists(
    st.tuples(
        st.sampled_from([None, "voice", "click", "guitar"]),
        st.integers(-600, 100),
        st.integers(-100, 100),
        st.floats(0, HOUR_S / 2),
    ),
    max_size=12,
)


@given(rule=st.sampled_from(get_args(RuleName)), level=st.integers(600, 1100), moves=MOVES)
def test_dose_kept_in_the_state_is_that_of_the_whole_log(
    rule: RuleName, level: int, moves: list[tuple[str | None, int, int, float]]
) -> None:
    stage = measured_stage(level)
    under(stage, rule)
    for source, tenths, pan, seconds in moves:
        stage.correct("ears", source, level=tenths, pan=pan if source else None)
        stage.wait(seconds)
    stage.ask("front", "voice", 30)
    stage.wait(60)

    assert dose(stage) == pytest.approx(told_by_the_log(stage, "ears", rule), rel=1e-9, abs=1e-9)


def test_day_is_over_a_day_after_its_first_level_and_a_level_read_then_begins_another() -> None:
    stage = measured_stage(850)
    stage.wait(24 * HOUR_S)

    over = exposure(stage)
    stage.do(m.MeasureEarLevel("ears", 850, COUPLER))

    assert (over.counted_h, over.is_day_over) == (24, True)
    assert (exposure(stage).counted_h, exposure(stage).is_day_over) == (0, False)
