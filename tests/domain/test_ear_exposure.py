"""What a level measured at the ear comes to over an evening."""

from dataclasses import replace
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_exposure import EarExposure, dose_is_full, ear_exposure, level_after
from monreq.domain.ear_levels import level_at_ear
from monreq.domain.exposure import RuleName, dose_percent
from monreq.domain.fold import fold
from monreq.domain.measuring_events import EarLevelMeasured
from monreq.domain.setup import Mix, Output, Settings
from monreq.domain.show import Show
from tests.support.ear_levels import AT_THE_EAR, COUPLER, measured_stage
from tests.support.stage import Stage, small_stage

HOUR_S = 3600.0


def exposure(stage: Stage, mix: str = "ears") -> EarExposure:
    found = ear_exposure(stage.show, mix, stage.now_ms)
    assert found is not None
    return found


def dose(stage: Stage, mix: str = "ears") -> float:
    found = exposure(stage, mix).dose_percent
    assert found is not None
    return found.about


def left_h(stage: Stage, mix: str = "ears") -> float:
    found = exposure(stage, mix).left_h
    assert found is not None
    return found.about


def points(stage: Stage, mix: str = "ears") -> float:
    found = exposure(stage, mix).points
    assert found is not None
    return found.about


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


def test_a_preamp_turned_up_counts_until_the_send_is_lowered() -> None:
    """Worked by hand: one of five equal sources, click and talkback too, up by ten is 10 lg((10 + 4) / 5) = 4.47 dB."""
    stage = measured_stage(850)

    stage.do(m.PlanPreampChange("voice", 100))
    stage.do(m.ConfirmPreamp(next(iter(stage.show.preamp_changes))))
    raised = exposure(stage).level_dba
    stage.correct("ears", "voice", level=-350)

    assert raised == pytest.approx(85 + 4.4716, abs=1e-4)
    assert exposure(stage).level_dba == pytest.approx(85)


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


def test_in_ears_with_the_click_alone_count_the_click() -> None:
    """Worked by hand: one of five equal sources is 10 lg(1 / 5) = -6.99 dB."""
    stage = measured_stage(940)
    for source in ("voice", "drums", "guitar", "talk"):
        stage.correct("ears", source, is_on=False)

    assert level_at_ear(stage.show, "ears") == pytest.approx(94 - 6.9897, abs=1e-4)


def test_a_click_that_goes_up_counts() -> None:
    """Worked by hand: one of five equal sources up by 20 dB is 10 lg((100 + 4) / 5) = 13.18 dB."""
    stage = measured_stage(850)

    stage.correct("ears", "click", level=-50)

    assert level_at_ear(stage.show, "ears") == pytest.approx(85 + 13.1806, abs=1e-4)


def test_the_louder_ear_is_told_when_everything_goes_to_one_side() -> None:
    """Worked by hand: constant power puts twice the power of the middle into one ear, 3.01 dB, half the time."""
    stage = measured_stage(940)
    before = left_h(stage)
    for source in ("voice", "drums", "guitar", "talk", "click"):
        stage.correct("ears", source, pan=-100)

    assert level_at_ear(stage.show, "ears") == pytest.approx(94 + 3.0103, abs=1e-4)
    assert left_h(stage) == pytest.approx(before * 2 ** (-3.0103 / 3), rel=1e-4)


def test_pans_count_against_how_they_stood_at_the_measurement() -> None:
    stage = small_stage()
    for source in ("voice", "drums", "guitar", "talk", "click"):
        stage.correct("ears", source, pan=-100)
    stage.do(m.MeasureEarLevel("ears", 940, COUPLER))

    for source in ("voice", "drums", "guitar", "talk", "click"):
        stage.correct("ears", source, pan=0)

    assert level_at_ear(stage.show, "ears") == pytest.approx(94 - 3.0103, abs=1e-4)


def test_a_trim_that_is_set_later_makes_nothing_louder() -> None:
    stage = measured_stage(940)
    for source in stage.show.sources.values():
        stage.do(c.PutSource(replace(source, trim_tenths=60)))

    assert level_at_ear(stage.show, "ears") == pytest.approx(94)


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


# What the guard asks: where a raise leads, and whether a day is full.


def test_a_raise_is_told_by_where_it_leads() -> None:
    """Worked by hand, issue "Safe over an evening": 8 h / 2^((106 - 85) / 3) = 3.75 min at 106 dB(A) (NIOSH 98-126)."""
    stage = measured_stage(1000)

    after = level_after(stage.show, "ears", 6.0)

    assert after is not None
    assert after.permitted_h is not None
    assert after.level_dba == pytest.approx(106)
    assert after.permitted_h.about * 60 == pytest.approx(3.75)
    assert after.permitted_h.low < after.permitted_h.about < after.permitted_h.high


def test_a_raise_beyond_the_table_is_permitted_for_no_time() -> None:
    """Source: 29 CFR 1910.95 Table G-16, which ends at 115 dB(A)."""
    stage = measured_stage(1140)
    under(stage, "osha")

    at_the_end, beyond = level_after(stage.show, "ears", 1.0), level_after(stage.show, "ears", 1.1)

    assert at_the_end is not None
    assert at_the_end.permitted_h is not None
    assert at_the_end.permitted_h.about == pytest.approx(0.25)
    assert beyond is not None
    assert beyond.permitted_h is not None
    assert (beyond.permitted_h.about, beyond.permitted_h.low) == (0, 0)


def test_a_raise_of_a_wedge_below_the_stage_leads_nowhere() -> None:
    stage = measured_stage(940, "front", AT_THE_EAR)
    stage.correct("front", None, level=-60)

    after = [level_after(stage.show, "front", change) for change in (3.0, 6.0, 9.0)]

    assert [one.level_dba for one in after if one] == pytest.approx([94, 94, 97])


def test_where_nothing_was_measured_or_heard_a_raise_leads_nowhere_known() -> None:
    silent = measured_stage(940)
    silent.correct("ears", None, is_on=False)

    assert level_after(small_stage().show, "ears", 3.0) is None
    assert level_after(silent.show, "ears", 3.0) is None


def test_a_day_is_full_as_of_the_last_event() -> None:
    stage = measured_stage(940)
    stage.wait(HOUR_S - 1)
    stage.ask("front", "voice", 30)
    before = dose_is_full(stage.show, "ears")
    stage.wait(1)

    assert (before, dose_is_full(stage.show, "ears")) == (False, False)
    assert dose_is_full(stage.show, "ears", stage.now_ms)
    stage.ask("front", "voice", 30)
    assert dose_is_full(stage.show, "ears")


def test_a_level_above_the_ceiling_is_a_full_day_at_once() -> None:
    stage = measured_stage(1151)
    under(stage, "osha")

    assert dose_is_full(stage.show, "ears")
    found = exposure(stage)
    assert found.is_above_ceiling
    assert left_h(stage) == 0


def test_nobody_can_tell_a_full_day_without_a_level() -> None:
    assert not dose_is_full(small_stage().show, "ears")


# What was read in a canal or coupler, ISO 11904.


def test_a_level_as_read_in_the_canal_has_no_dose_and_no_time() -> None:
    stage = measured_stage(1200)
    stage.do(m.MeasureEarLevel("ears", 1000, COUPLER, is_correction=True, is_field_level=False))
    stage.wait(HOUR_S)

    found = exposure(stage)

    assert found.level_dba == 100
    assert (found.dose_percent, found.left_h, found.points, found.allowance_percent) == (None,) * 4
    assert not dose_is_full(stage.show, "ears", stage.now_ms)
    after = level_after(stage.show, "ears", 3.0)
    assert after is not None
    assert after.level_dba == pytest.approx(103)
    assert after.permitted_h is None


def test_the_converted_figure_entered_in_its_place_counts_from_the_start() -> None:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("ears", 1000, COUPLER, is_field_level=False))
    stage.wait(HOUR_S)

    stage.do(m.MeasureEarLevel("ears", 940, COUPLER, is_correction=True, is_field_level=True))

    assert dose(stage) == pytest.approx(100)


def test_beside_an_open_ear_the_level_is_that_of_the_field() -> None:
    stage = small_stage()

    stage.do(m.MeasureEarLevel("front", 940, AT_THE_EAR, is_field_level=False))

    assert stage.show.ear_levels["front"][0].is_field_level is True


def test_what_nobody_said_is_compared_as_it_was_typed() -> None:
    stage = measured_stage(940)
    stage.wait(HOUR_S)

    assert stage.show.ear_levels["ears"][0].is_field_level is None
    assert dose(stage) == pytest.approx(100)


# How far it may be off.


def test_dose_and_time_lie_between_what_the_reading_may_be_off_by() -> None:
    """Worked by hand: u = sqrt(2^2 + 1.5^2 + 1^2) = 2.69 dB, U = 1.65 u = 4.44 dB, a factor of 2^(4.44 / 3) = 2.79."""
    stage = measured_stage(940)
    stage.wait(HOUR_S / 10)

    found = exposure(stage)

    assert found.dose_percent is not None
    assert found.left_h is not None
    assert (found.dose_percent.low, found.dose_percent.about, found.dose_percent.high) == pytest.approx(
        (10 / 2.792, 10, 10 * 2.792), rel=1e-3
    )
    assert (found.left_h.low, found.left_h.about, found.left_h.high) == pytest.approx(
        ((1 - 0.2792) / 2.792, 0.9, (1 - 0.1 / 2.792) * 2.792), rel=1e-3
    )
