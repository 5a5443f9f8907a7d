"""The level at an ear: from the one measured, by what the louder ear gets since."""

from dataclasses import replace

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_levels import level_at_ear
from monreq.domain.setup import Mix, Output
from tests.support.ear_levels import (
    AT_THE_EAR,
    COUPLER,
    exposure,
    left_h,
    measured_stage,
)
from tests.support.stage import small_stage


def test_a_preamp_turned_up_counts_until_the_send_is_lowered() -> None:
    """Worked by hand: one of five equal sources, click and talkback too, up by ten is 10 lg((10 + 4) / 5) = 4.47 dB."""
    stage = measured_stage(850)

    stage.do(m.PlanPreampChange("voice", 100))
    stage.do(m.ConfirmPreamp(next(iter(stage.show.preamp_changes)), though_rows_wait=True))
    raised = exposure(stage).level_dba
    stage.correct("ears", "voice", level=-350)

    assert raised == pytest.approx(85 + 4.4716, abs=1e-4)
    assert exposure(stage).level_dba == pytest.approx(85)


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
