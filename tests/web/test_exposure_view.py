"""What pages say about exposure: sentences that are a function of the state alone, and times in words."""

from dataclasses import replace

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.exposure import RuleName
from monreq.domain.readings import EarMethod
from monreq.domain.refusals import UnknownMix
from monreq.domain.setup import Settings
from monreq.web.api_views import mix_answer
from monreq.web.exposure_view import exposure_lines, exposure_view
from monreq.web.own_exposure import own_exposure_lines
from tests.support.stage import Stage, small_stage

ONE_LOUDER = (
    "Rhythm in-ears are 2.2 dB up since soundcheck: if pack and playing are unchanged, a day is full after "
    "three fifths of the time (NIOSH). An estimate, not a measurement."
)


def louder(mix: str, tenths: int) -> Stage:
    stage = small_stage()
    stage.mark()
    stage.correct(mix, None, level=stage.level(mix, None) + tenths)
    return stage


def test_in_ears_that_went_up_are_told_with_what_it_does_to_time() -> None:
    """Worked by hand: 2.2 dB leave 2^(-2.2 / 3) = 0.60 of the time (NIOSH 98-126: halved per 3 dB)."""
    assert exposure_lines(louder("ears", 22).show) == (ONE_LOUDER,)


@pytest.mark.parametrize(
    ("rule", "words"),
    [
        ("niosh", "a half of the time (NIOSH)"),
        ("osha", "two thirds of the time (OSHA)"),
        ("eu", "a half of the time (EU and UK, upper action value)"),
    ],
)
def test_the_rule_of_the_show_decides(rule: RuleName, words: str) -> None:
    """Worked by hand for 3 dB: 2^(-3 / 3), 2^(-3 / 5) = 0.66 and 10^(-0.3) = 0.50."""
    stage = louder("ears", 30)
    stage.do(c.ChangeSettings(Settings(exposure_rule=rule)))

    (line,) = exposure_lines(stage.show)

    own = " ".join(own_exposure_lines(stage.show, "ears"))

    assert f"full after {words}. An estimate" in line
    assert words in own.replace(" that they could at soundcheck", "")


@pytest.mark.parametrize("tenths", [9, 0, -60])
def test_what_is_not_noticeably_up_is_not_told(tenths: int) -> None:
    show = louder("ears", tenths).show

    assert exposure_lines(show) == ()
    assert own_exposure_lines(show, "ears") == ()


def test_click_and_pans_that_made_an_ear_louder_are_told_as_the_guard_counts_them() -> None:
    """Worked by hand: five equal sources, the click up by 6 dB and all on one side, are 10 lg(2 * 7.98 / 5) = 5.0 dB."""
    stage = louder("ears", 0)
    stage.correct("ears", "click", level=stage.level("ears", "click") + 60)
    for source in ("voice", "drums", "guitar", "talk", "click"):
        stage.correct("ears", source, pan=-100)

    view = exposure_view(stage.show, "ears", None)

    assert view.drift.startswith("Rhythm in-ears are 5.0 dB up since soundcheck")
    assert mix_answer(stage.show, "ears").drift_db == 5.0


def test_in_ears_that_are_not_called_so_are_told_whose_they_are() -> None:
    stage = louder("ears", 22)
    stage.do(c.PutMix(replace(stage.show.mix("ears"), name="Drums")))

    (line,) = exposure_lines(stage.show)

    assert line.startswith("Drums' in-ears are 2.2 dB up since soundcheck")


def test_one_dB_is_noticeable() -> None:  # noqa: N802 - dB is written so
    assert len(exposure_lines(louder("ears", 10).show)) == 1


def test_a_wedge_is_told_its_drift_and_no_time() -> None:
    show = louder("front", 30).show

    assert exposure_lines(show) == ()
    assert own_exposure_lines(show, "front") == (
        "Your wedge is 3.0 dB louder than at soundcheck.",
        "An estimate, not a measurement.",
    )


def test_before_the_mark_there_is_nothing_to_tell() -> None:
    show = small_stage().show

    assert (exposure_lines(show), own_exposure_lines(show, "ears")) == ((), ())


def test_a_mix_that_is_not_there_is_refused() -> None:
    with pytest.raises(UnknownMix):
        own_exposure_lines(small_stage().show, "nosuch")


# The figures of a mix's page.


def figures(stage: Stage, mix: str = "ears") -> dict[str, str]:
    exposure = ear_exposure(stage.show, mix, stage.now_ms)
    return {one.name: one.value for one in exposure_view(stage.show, mix, exposure).figures}


def measured(level: int, hours: float) -> Stage:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("ears", level, EarMethod.COUPLER))
    stage.wait(hours * 3600)
    return stage


def test_figures_of_half_an_hour() -> None:
    """Sources: NIOSH 98-126, 94 dB(A) for an hour; HSE 2020, 100 * 10^((94 - 85) / 10) * 0.5 / 8 = 49.6 points.

    ITU-T H.870 with WHO: 40 / 2^((94 - 80) / 3) = 1.575 h a week, of which half an hour is 31.7 %. LEX,8h = 82.0.
    """
    assert figures(measured(940, 0.5)) == {
        "at the louder ear now": "94 dB(A)",
        "counted": "30 min",
        "dose so far (NIOSH)": "about 50 %, between 18 % and 140 % of a day",
        "time left at this level": "about 30 min, at most 2 h 17 min, perhaps none",
        "UK and EU points so far": "about 50, between 18 and 139, where a day has 100 and a week 500; lower exposure action "
        "value reached, upper exposure action value perhaps, without protectors",
        "week's listening allowance": "about 32 %, between 12 % and 89 % of 80 dB(A) for 40 h used today; at this level it "
        "lasts about 1 h 34 min a week",
    }


def test_figures_of_the_rule_chosen() -> None:
    """Source: 29 CFR 1910.95 Table G-16, 95 dB(A) for four hours."""
    stage = measured(950, 1)
    stage.do(c.ChangeSettings(Settings(exposure_rule="osha")))

    found = figures(stage)

    assert found["dose so far (OSHA)"].startswith("about 25 %, between ")
    assert found["time left at this level"].startswith("about 3 h, between ")


def test_beyond_oshas_table_there_is_no_time_left() -> None:
    """Source: 29 CFR 1910.95 Table G-16, which ends at 115 dB(A)."""
    stage = measured(1151, 0)
    stage.do(c.ChangeSettings(Settings(exposure_rule="osha")))

    assert figures(stage)["time left at this level"] == "none: above 115 dB(A)"


def test_a_level_as_read_has_no_dose_among_its_figures() -> None:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("ears", 1000, EarMethod.COUPLER, is_field_level=False))

    assert figures(stage) == {
        "at the louder ear now": "100 dB(A) as read in the ear canal or coupler",
        "counted": "less than a minute",
    }


def test_the_european_rule_says_what_its_values_are() -> None:
    """Source: Directive 2003/10/EC, Art. 3(2)."""
    stage = measured(940, 0.5)
    stage.do(c.ChangeSettings(Settings(exposure_rule="eu")))

    view = exposure_view(stage.show, "ears", ear_exposure(stage.show, "ears", stage.now_ms))

    assert "dose so far (EU and UK, upper action value)" in figures(stage)
    assert any("so it is no level that is allowed" in line for line in view.cautions)


def test_a_day_used_up_says_so() -> None:
    assert figures(measured(1000, 1))["time left at this level"] == "none: the day is full"


def test_a_silent_mix_has_no_time_left_to_tell() -> None:
    stage = measured(940, 0.5)
    stage.correct("ears", None, is_on=False)

    found = figures(stage)

    assert (found["at the louder ear now"], found["time left at this level"]) == (
        "silent",
        "the mix is silent",
    )
    assert found["week's listening allowance"] == (
        "about 32 %, between 12 % and 89 % of 80 dB(A) for 40 h used today"
    )


def test_after_a_day_no_time_left_is_told() -> None:
    assert "time left at this level" not in figures(measured(850, 25))


def test_right_after_a_level_was_entered_nothing_is_used() -> None:
    found = figures(measured(940, 0))

    assert found["dose so far (NIOSH)"] == "0 % of a day"
    assert found["UK and EU points so far"] == "0, where a day has 100 and a week 500"
