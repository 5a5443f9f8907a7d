"""How far a mix drifted since the soundcheck mark."""

import math

import pytest

from monreq.domain import commands as c
from monreq.domain.drifts import drift_db
from monreq.domain.refusals import UnknownMix
from monreq.domain.setup import Settings, SourceUse
from tests.support.stage import Stage, small_stage


def marked_stage() -> Stage:
    stage = small_stage()
    stage.mark()
    return stage


def test_drift_is_unknown_before_the_mark() -> None:
    assert drift_db(small_stage().show, "front") is None


def test_drift_is_nothing_right_at_the_mark() -> None:
    assert drift_db(marked_stage().show, "front") == 0.0


def test_a_raise_of_the_output_is_all_drift() -> None:
    stage = marked_stage()

    stage.correct("front", None, level=25)

    assert drift_db(stage.show, "front") == pytest.approx(2.5)


def test_one_of_four_equal_sources_up_by_ten_drifts_by_the_power_sum() -> None:
    """Worked by hand: 10 lg((10 + 1 + 1 + 1) / 4) dB = 5.12 dB."""
    stage = marked_stage()

    stage.correct("front", "voice", level=-100)

    assert drift_db(stage.show, "front") == pytest.approx(10 * math.log10(13 / 4))


def test_a_source_put_in_makes_louder_and_one_taken_out_makes_softer() -> None:
    """Worked by hand: four equal sources to three are 10 lg(3/4) dB."""
    stage = marked_stage()

    stage.correct("front", "guitar", is_on=False)
    softer = drift_db(stage.show, "front")
    stage.mark()
    stage.correct("front", "guitar", is_on=True)

    assert softer == pytest.approx(10 * math.log10(3 / 4))
    assert drift_db(stage.show, "front") == pytest.approx(10 * math.log10(4 / 3))


@pytest.mark.parametrize("source", ["click", "talk"])
def test_click_and_talkback_count_as_the_ear_hears_them(source: str) -> None:
    """Worked by hand: five equal sources, of which one goes up by 10 dB, are 10 lg(14 / 5) dB."""
    stage = marked_stage()

    stage.correct("ears", source, level=-150)

    assert drift_db(stage.show, "ears") == pytest.approx(10 * math.log10(14 / 5))


def test_a_mix_panned_to_one_side_is_louder_in_that_ear() -> None:
    """Worked by hand: constant power puts all of it into one ear instead of half, which is twice the power there."""
    stage = marked_stage()

    for source in ("voice", "drums", "guitar", "talk", "click"):
        stage.correct("ears", source, pan=-100)

    assert drift_db(stage.show, "ears") == pytest.approx(10 * math.log10(2))


def test_a_source_that_left_the_show_was_heard_at_the_mark() -> None:
    stage = marked_stage()

    stage.do(c.RemoveSource("guitar"))

    assert drift_db(stage.show, "front") == pytest.approx(10 * math.log10(3 / 4))


def test_a_mix_that_was_added_after_the_mark_has_none() -> None:
    stage = marked_stage()
    stage.musician("late")
    stage.wedge("late", "late")

    assert drift_db(stage.show, "late") is None


def test_a_mix_that_is_silent_has_none() -> None:
    stage = marked_stage()
    for source in ("voice", "drums", "guitar", "talk"):
        stage.correct("front", source, is_on=False)

    assert drift_db(stage.show, "front") is None


def test_a_mix_whose_output_is_off_has_none() -> None:
    stage = marked_stage()

    stage.correct("front", None, is_on=False)

    assert drift_db(stage.show, "front") is None


def test_a_level_beyond_all_hearing_is_still_reckoned_with() -> None:
    """Worked by hand: four equal sources to three are 10 lg(3/4) dB."""
    stage = marked_stage()
    stage.do(c.ChangeSettings(Settings(lowest_tenths=-1500)))

    stage.correct("front", "guitar", level=-1500)

    assert drift_db(stage.show, "front") == pytest.approx(10 * math.log10(3 / 4))


def test_another_mix_does_not_drift_along() -> None:
    stage = marked_stage()

    stage.correct("front", None, level=60)

    assert drift_db(stage.show, "ears") == 0.0


def test_a_mix_that_is_not_there_is_refused() -> None:
    with pytest.raises(UnknownMix):
        drift_db(marked_stage().show, "nosuch")


def test_mics_for_the_audience_count_too() -> None:
    """Worked by hand: six equal sources, of which one goes up by 10 dB, are 10 lg(15 / 6) dB."""
    stage = small_stage()
    stage.source("hall", use=SourceUse.AUDIENCE_MIC)
    stage.put("ears", "hall", -250)
    stage.mark()

    stage.correct("ears", "hall", level=-150)

    assert drift_db(stage.show, "ears") == pytest.approx(10 * math.log10(15 / 6))
