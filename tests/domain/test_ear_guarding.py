"""What a guard asks about an ear, what was read in a canal, and how far a figure may be off."""

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.cautions import CautionCode
from monreq.domain.ear_exposure import dose_is_full, level_after
from monreq.domain.setup import Settings
from tests.support.ear_levels import (
    AT_THE_EAR,
    COUPLER,
    dose,
    exposure,
    left_h,
    measured_stage,
    under,
)
from tests.support.stage import small_stage

HOUR_S = 3600.0


# What the guard asks: where a raise leads, and whether a day is full.


def test_a_raise_is_told_by_where_it_leads() -> None:
    """Worked by hand: 8 h / 2^((106 - 85) / 3) = 3.75 min at 106 dB(A) (NIOSH 98-126)."""
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


def test_a_day_may_be_full_as_of_the_last_event() -> None:
    """Worked by hand: an hour at 94 dB(A) (NIOSH 98-126), read too low by 4.44 dB 60 min / 2.792 = 1289.6 s."""
    stage = measured_stage(940)
    stage.wait(1289)
    stage.ask("front", "voice", 30)
    before = dose_is_full(stage.show, "ears")
    stage.wait(1)

    assert (before, dose_is_full(stage.show, "ears")) == (False, False)
    assert dose_is_full(stage.show, "ears", stage.now_ms)
    stage.ask("front", "voice", 30)
    assert dose_is_full(stage.show, "ears")


@pytest.mark.parametrize(
    ("level", "move", "code"),
    [
        (1000, 30, None),
        (1095, 10, CautionCode.NO_TIME_ABOVE),
        (1105, 0, CautionCode.NO_TIME_ABOVE),
        (1151, 0, CautionCode.NO_TIME_ABOVE),
    ],
)
def test_no_raise_may_lead_above_where_oshas_table_ends(
    level: int, move: int, code: CautionCode | None
) -> None:
    """Source: 29 CFR 1910.95 Table G-16, which ends at 115 dB(A); worked by hand: read 4.44 dB too low, 110.5 is its end."""
    stage = measured_stage(level)
    stage.do(c.ChangeSettings(Settings(exposure_rule="osha")))
    stage.ask("ears", None, 30, "bass")

    found = stage.row("ears", None)

    assert found is not None
    told = {one.code for one in found.suggestion.cautions}
    assert found.suggestion.move == move
    assert told == ({code} if code else set())


def test_above_the_ceiling_nothing_is_left() -> None:
    stage = measured_stage(1151)
    under(stage, "osha")

    assert exposure(stage).is_above_ceiling
    assert left_h(stage) == 0


@pytest.mark.parametrize(("seconds", "move"), [(1049, 30), (1050, 0)])
def test_no_raise_is_advised_once_the_day_may_be_full(seconds: float, move: int) -> None:
    """Worked by hand as above, four minutes of a song before 1289 s: by the middle of the range 42 minutes were left."""
    stage = measured_stage(940)
    stage.wait(seconds)
    stage.ask("ears", None, 30, "bass")

    found = stage.row("ears", None)

    assert found is not None
    assert found.suggestion.move == move
    assert (CautionCode.DOSE_FULL in [one.code for one in found.suggestion.cautions]) == (move == 0)


def test_a_typed_figure_is_recorded_though_the_day_may_be_full() -> None:
    stage = measured_stage(940)
    stage.wait(HOUR_S)
    before = stage.level("ears", None)

    stage.done(stage.ask("ears", None, 30, "bass"), change=30)

    assert stage.level("ears", None) == before + 30


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


def test_what_was_read_in_the_canal_later_leaves_the_dose_and_a_full_day_as_they_were() -> None:
    """Worked by hand: an hour at 100 dB(A) is four days' dose (NIOSH 98-126: 15 min)."""
    stage = measured_stage(1000)
    stage.wait(HOUR_S)
    stage.do(m.MeasureEarLevel("ears", 1000, COUPLER, is_field_level=False))
    stage.wait(HOUR_S)

    found = exposure(stage)

    assert dose(stage) == pytest.approx(400)
    assert found.counted_h == pytest.approx(1)
    assert found.left_h is None
    assert dose_is_full(stage.show, "ears", stage.now_ms)


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
