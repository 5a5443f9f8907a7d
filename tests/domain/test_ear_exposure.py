"""What a level measured at the ear comes to over an evening."""

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_exposure import EarExposure, ear_exposure, level_at_ear
from monreq.domain.exposure import RuleName
from monreq.domain.measuring_events import EarLevelMeasured
from monreq.domain.setup import Mix, Output, Settings
from tests.support.ear_levels import AT_THE_EAR, COUPLER, measured_stage
from tests.support.stage import Stage, small_stage

HOUR_S = 3600.0


def exposure(stage: Stage, mix: str = "ears") -> EarExposure:
    first = stage.show.ear_levels[mix][0].revision
    found = ear_exposure(stage.show, mix, stage.at(first), stage.log[first:], stage.now_ms)
    assert found is not None
    return found


def under(stage: Stage, rule: RuleName) -> None:
    stage.do(c.ChangeSettings(Settings(exposure_rule=rule)))


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

    assert exposure(stage).dose_percent == pytest.approx(percent)
    assert exposure(stage).left_h == pytest.approx(0, abs=1e-9)
    assert exposure(stage).counted_h == pytest.approx(hours)


def test_a_raise_counts_from_when_it_was_made() -> None:
    """Worked by hand: 85 dB(A) for four hours is a half; 3 dB more for two hours is the other half (NIOSH 98-126)."""
    stage = measured_stage(850)

    stage.wait(4 * HOUR_S)
    half = exposure(stage)
    stage.correct("ears", None, level=-70)
    stage.wait(1 * HOUR_S)

    assert (half.dose_percent, half.level_dba, half.left_h) == pytest.approx((50, 85, 4))
    assert exposure(stage).level_dba == pytest.approx(88)
    assert exposure(stage).dose_percent == pytest.approx(75)
    assert exposure(stage).left_h == pytest.approx(1)


def test_equal_doses_of_the_trade_guidance() -> None:
    """Source: HSE 'Sound advice' (HSG260), paras 1.18-1.21: 105 dB(A) for 5 minutes, 94 for 60, 88 for 240 are alike."""
    levels = []
    for level, minutes in ((1050, 5), (940, 60), (880, 240)):
        stage = measured_stage(level)
        stage.wait(minutes * 60)
        levels.append(exposure(stage).points)

    assert levels == pytest.approx([100] * 3, rel=0.07)


def test_a_preamp_turned_up_counts_until_the_send_is_lowered() -> None:
    """Worked by hand: one of three equal sources up by ten is 10 lg((10 + 1 + 1) / 3) = 6.02 dB."""
    stage = measured_stage(850)

    stage.do(m.PlanPreampChange("voice", 100))
    stage.do(m.ConfirmPreamp(next(iter(stage.show.preamp_changes))))
    raised = exposure(stage).level_dba
    stage.correct("ears", "voice", level=-350)

    assert raised == pytest.approx(85 + 6.0206, abs=1e-4)
    assert exposure(stage).level_dba == pytest.approx(85)


def test_weekly_figures_go_with_the_same_segments() -> None:
    """Sources: HSE weekly ready-reckoner, 100 points are 85 dB(A) for 8 h; ITU-T H.870 with WHO, 80 dB(A) for 40 h."""
    stage = measured_stage(850)
    stage.wait(8 * HOUR_S)

    found = exposure(stage)

    assert found.points == pytest.approx(100)
    assert found.allowance_percent == pytest.approx(100 * 8 / (40 / 2 ** (5 / 3)))


def test_a_closed_show_stops_the_clock() -> None:
    stage = measured_stage(940)
    stage.wait(HOUR_S / 2)
    stage.do(c.CloseShow())

    stage.wait(5 * HOUR_S)

    assert exposure(stage).dose_percent == pytest.approx(50)


def test_an_in_ear_pair_that_is_silent_stops_the_clock() -> None:
    stage = measured_stage(940)
    stage.correct("ears", None, is_on=False)

    stage.wait(HOUR_S)

    found = exposure(stage)
    assert (found.dose_percent, found.counted_h, found.level_dba, found.left_h) == (0, 0, None, None)


def test_in_ears_with_the_click_alone_count_as_loud_as_measured() -> None:
    stage = measured_stage(940)
    for source in ("voice", "drums", "guitar"):
        stage.correct("ears", source, is_on=False)

    assert level_at_ear(stage.show, "ears") == 94


def test_a_wedge_counts_raises_but_not_what_the_stage_keeps_loud() -> None:
    stage = measured_stage(940, "front", AT_THE_EAR)

    stage.correct("front", None, level=30)
    raised = level_at_ear(stage.show, "front")
    stage.correct("front", None, level=-60)
    lowered = level_at_ear(stage.show, "front")
    stage.correct("front", None, is_on=False)

    assert raised == pytest.approx(97)
    assert (lowered, level_at_ear(stage.show, "front")) == (94, 94)


def test_a_level_measured_later_counts_from_then_on() -> None:
    """Worked by hand: an hour at 94 dB(A) is a day; half an hour at 97 another (NIOSH 98-126)."""
    stage = measured_stage(940)
    stage.wait(HOUR_S)
    stage.do(m.MeasureEarLevel("ears", 970, COUPLER))
    stage.wait(HOUR_S / 2)

    found = exposure(stage)

    assert found.dose_percent == pytest.approx(200)
    assert found.level_dba == 97


def test_a_level_that_was_wrong_is_replaced_from_when_it_was_entered() -> None:
    stage = measured_stage(1240)
    stage.wait(HOUR_S)

    stage.do(m.MeasureEarLevel("ears", 940, AT_THE_EAR, is_correction=True))

    (only,) = stage.show.ear_levels["ears"]
    assert (only.level_tenths, only.how) == (940, AT_THE_EAR)
    assert exposure(stage).dose_percent == pytest.approx(100)


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
    assert over.dose_percent == pytest.approx(300)
    assert (exposure(stage).dose_percent, exposure(stage).is_day_over) == (0, False)


def test_another_output_forgets_what_was_measured() -> None:
    stage = measured_stage(940)

    stage.do(c.PutMix(Mix("ears", "Rhythm", Output.WEDGE, ("bass",))))

    assert stage.show.ear_levels == {}
    assert level_at_ear(stage.show, "ears") is None


def test_another_name_forgets_nothing() -> None:
    stage = measured_stage(940)

    stage.do(c.PutMix(Mix("ears", "Rhythm section", Output.IN_EAR_PAIR, ("bass",))))

    assert level_at_ear(stage.show, "ears") == 94


def test_a_removed_mix_takes_its_levels_along() -> None:
    stage = measured_stage(940)

    stage.do(c.RemoveMix("ears"))

    assert stage.show.ear_levels == {}


def test_nothing_measured_is_no_exposure() -> None:
    stage = small_stage()

    assert ear_exposure(stage.show, "ears", stage.show, [], stage.now_ms) is None
    assert level_at_ear(stage.show, "ears") is None


def test_a_clock_that_was_set_back_takes_nothing_off() -> None:
    stage = measured_stage(940)
    stage.wait(HOUR_S)
    stage.correct("ears", None, level=-110)
    before = exposure(stage).dose_percent

    stage.wait(-2 * HOUR_S)
    stage.correct("ears", "voice", level=-260)

    assert before == pytest.approx(100)
    assert exposure(stage).dose_percent == before


STEPS = st.lists(
    st.tuples(st.floats(0, 4 * HOUR_S), st.integers(-600, 100), st.booleans()), min_size=1, max_size=8
)


@given(rule=st.sampled_from(get_args(RuleName)), level=st.integers(400, 1400), steps=STEPS)
def test_dose_never_falls_whatever_the_mix_does(
    rule: RuleName, level: int, steps: list[tuple[float, int, bool]]
) -> None:
    stage = measured_stage(level)
    under(stage, rule)
    doses, points = [], []

    for seconds, output, is_on in steps:
        stage.correct("ears", None, level=output, is_on=is_on)
        stage.wait(seconds)
        found = exposure(stage)
        doses.append(found.dose_percent)
        points.append(found.points)

    assert doses == sorted(doses)
    assert points == sorted(points)


@given(change=st.integers(-600, 0), raised=st.integers(1, 100))
def test_louder_is_never_allowed_longer(change: int, raised: int) -> None:
    stage = measured_stage(850)
    stage.correct("ears", None, level=change)
    softer = exposure(stage).left_h
    stage.correct("ears", None, level=change + raised)

    louder = exposure(stage).left_h

    assert softer is not None
    assert louder is not None
    assert louder < softer
