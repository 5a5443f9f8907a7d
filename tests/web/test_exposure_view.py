"""What pages say about exposure: sentences that are a function of the state alone, and times in words."""

from dataclasses import replace

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.exposure import RuleName, time_factor
from monreq.domain.readings import EarMethod
from monreq.domain.refusals import UnknownMix
from monreq.domain.setup import Settings
from monreq.web.exposure_view import exposure_lines, exposure_view, own_exposure_line
from monreq.web.exposure_words import duration, part, percent, possessive, sound_level
from tests.support.stage import Stage, small_stage

ONE_LOUDER = (
    "Rhythm in-ears are 2.2 dB up since soundcheck: if pack and playing are unchanged, allowed listening time "
    "is down to three fifths (NIOSH). An estimate, not a measurement."
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
    [("niosh", "a half (NIOSH)"), ("osha", "two thirds (OSHA)"), ("eu", "a half (EU and UK)")],
)
def test_the_rule_of_the_show_decides(rule: RuleName, words: str) -> None:
    """Worked by hand for 3 dB: 2^(-3 / 3), 2^(-3 / 5) = 0.66 and 10^(-0.3) = 0.50."""
    stage = louder("ears", 30)
    stage.do(c.ChangeSettings(Settings(exposure_rule=rule)))

    (line,) = exposure_lines(stage.show)

    assert f"down to {words}. An estimate" in line
    assert words in own_exposure_line(stage.show, "ears").replace(" of the time", "")


@pytest.mark.parametrize("tenths", [9, 0, -60])
def test_what_is_not_noticeably_up_is_not_told(tenths: int) -> None:
    show = louder("ears", tenths).show

    assert exposure_lines(show) == ()
    assert own_exposure_line(show, "ears") == ""


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
    assert own_exposure_line(show, "front") == (
        "Your wedge is 3.0 dB louder than at soundcheck. An estimate, not a measurement."
    )


def test_before_the_mark_there_is_nothing_to_tell() -> None:
    show = small_stage().show

    assert (exposure_lines(show), own_exposure_line(show, "ears")) == ((), "")


def test_own_in_ears_are_told_in_plain_words() -> None:
    assert own_exposure_line(louder("ears", 22).show, "ears") == (
        "Your in-ears are 2.2 dB louder than at soundcheck. If you left the pack alone and play as then, your ears have "
        "had enough after three fifths of the time (NIOSH). An estimate, not a measurement."
    )


def test_own_level_is_told_where_one_was_measured() -> None:
    """Source: NIOSH 98-126, 94 dB(A) for one hour; 97 for half an hour."""
    stage = louder("ears", 0)
    stage.do(m.MeasureEarLevel("ears", 940, EarMethod.COUPLER))
    stage.correct("ears", None, level=stage.level("ears", None) + 30)

    assert own_exposure_line(stage.show, "ears") == (
        "Your in-ears: about 97 dB(A) at the ear, if you left the pack alone and play as then. A whole day's listening "
        "at that is 30 min (NIOSH). An estimate: rest your ears when you can."
    )


def test_own_wedge_is_told_a_time_only_once_it_was_measured() -> None:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("front", 1000, EarMethod.AT_THE_EAR))

    assert own_exposure_line(stage.show, "front") == (
        "Your wedge: about 100 dB(A) at the ear, if you play as then. A whole day's listening at that is 15 min (NIOSH). "
        "An estimate: rest your ears when you can."
    )


def test_a_mix_that_is_not_there_is_refused() -> None:
    with pytest.raises(UnknownMix):
        own_exposure_line(small_stage().show, "nosuch")


# The figures of a mix's page.


def figures(stage: Stage, mix: str = "ears") -> dict[str, str]:
    first = stage.show.ear_levels[mix][0].revision
    exposure = ear_exposure(stage.show, mix, stage.at(first), stage.log[first:], stage.now_ms)
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
        "at the ear now": "94 dB(A)",
        "counted": "30 min",
        "dose so far (NIOSH)": "50 % of a day's allowance",
        "time left at this level": "30 min",
        "UK and EU points so far": "50 of 100 a day and 500 a week; lower exposure action value reached",
        "week's listening allowance": "32 % of 80 dB(A) for 40 h used today; at this level it lasts 1 h 34 min a week",
    }


def test_figures_of_the_rule_chosen() -> None:
    """Source: 29 CFR 1910.95 Table G-16, 95 dB(A) for four hours."""
    stage = measured(950, 1)
    stage.do(c.ChangeSettings(Settings(exposure_rule="osha")))

    found = figures(stage)

    assert found["dose so far (OSHA)"] == "25 % of a day's allowance"
    assert found["time left at this level"] == "3 h"


def test_a_day_used_up_says_so() -> None:
    assert figures(measured(1000, 1))["time left at this level"] == "none: the day's allowance is used up"


def test_a_silent_mix_has_no_time_left_to_tell() -> None:
    stage = measured(940, 0.5)
    stage.correct("ears", None, is_on=False)

    found = figures(stage)

    assert (found["at the ear now"], found["time left at this level"]) == ("silent", "the mix is silent")
    assert found["week's listening allowance"] == "32 % of 80 dB(A) for 40 h used today"


def test_after_a_day_no_time_left_is_told() -> None:
    assert "time left at this level" not in figures(measured(850, 25))


def test_right_after_a_level_was_entered_nothing_is_used() -> None:
    found = figures(measured(940, 0))

    assert found["dose so far (NIOSH)"] == "0 % of a day's allowance"
    assert found["UK and EU points so far"] == "0 of 100 a day and 500 a week"


# Figures in words.


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (0, "less than a minute"),
        (0.0166, "less than a minute"),
        (1 / 60, "1 min"),
        (0.999, "59 min"),
        (1, "1 h"),
        (1.34, "1 h 20 min"),
        (23.999, "23 h 59 min"),
        (24, "a day or more"),
        (float("inf"), "a day or more"),
    ],
)
def test_times_are_rounded_down(hours: float, words: str) -> None:
    assert duration(hours) == words


@pytest.mark.parametrize(
    ("value", "words"), [(0, "0 %"), (0.01, "1 %"), (61.2, "62 %"), (100, "100 %"), (100.0000001, "100 %")]
)
def test_doses_are_rounded_up(value: float, words: str) -> None:
    assert percent(value) == words


@pytest.mark.parametrize(
    ("change_db", "words"),
    [(1, "four fifths"), (2.2, "three fifths"), (3, "a half"), (6, "a quarter"), (9, "an eighth")],
)
def test_shares_of_the_time_as_people_say_them(change_db: float, words: str) -> None:
    assert part(time_factor(change_db, "niosh")) == words


@pytest.mark.parametrize("factor", [0.0949, 0.01, 0.0])
def test_what_is_left_of_a_big_raise_is_less_than_a_tenth(factor: float) -> None:
    assert part(factor) == "less than a tenth"


def test_names_and_levels() -> None:
    assert (possessive("Guitar"), possessive("Drums")) == ("Guitar's", "Drums'")
    assert (sound_level(94.0), sound_level(94.46)) == ("94 dB(A)", "94.5 dB(A)")
