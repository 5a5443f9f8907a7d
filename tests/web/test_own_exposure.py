"""What a phone says of its own level at the ear, in the same words as the desk."""

from typing import get_args

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.ear_forecast import last_forecast
from monreq.domain.exposure import RuleName
from monreq.domain.readings import EarMethod
from monreq.domain.setup import Settings
from monreq.web.clock import local_time
from monreq.web.ear_sentences import forecast_line
from monreq.web.exposure_view import exposure_view
from monreq.web.own_exposure import own_exposure, own_exposure_lines
from tests.support.stage import Stage, small_stage


def louder(mix: str, tenths: int) -> Stage:
    stage = small_stage()
    stage.mark()
    stage.correct(mix, None, level=stage.level(mix, None) + tenths)
    return stage


def measured(level: int, hours: float) -> Stage:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("ears", level, EarMethod.COUPLER))
    stage.wait(hours * 3600)
    return stage


def test_own_in_ears_are_told_in_plain_words_and_that_nobody_measured() -> None:
    assert own_exposure_lines(louder("ears", 22).show, "ears") == (
        "Your in-ears are 2.2 dB louder than at soundcheck.",
        "If you left the pack alone and play as then, your ears can take it for three fifths of the time that they could at "
        "soundcheck (NIOSH); how long that was, nobody measured.",
        "An estimate, not a measurement.",
    )


def test_own_level_is_told_where_one_was_measured() -> None:
    """Source: NIOSH 98-126, 94 dB(A) for one hour, 97 for half an hour; worked by hand: 4.44 dB are a factor of 2.79."""
    stage = louder("ears", 0)
    stage.do(m.MeasureEarLevel("ears", 940, EarMethod.COUPLER))
    stage.correct("ears", None, level=stage.level("ears", None) + 30)
    full, early = (local_time(stage.now_ms + seconds * 1000) for seconds in (1800, 642))

    assert own_exposure_lines(stage.show, "ears") == (
        "Your in-ears: about 97 dB(A) at the louder ear, if you left the pack alone and play as then.",
        "A whole day's listening at that is about 30 min, between 10 min and 1 h 23 min (NIOSH).",
        f"At this level the day is full at about {full}, perhaps as early as {early} (NIOSH).",
        "An estimate: rest your ears when you can.",
        "Ears that ring or feel dull had too much.",
    )


def test_own_wedge_is_told_a_time_only_once_it_was_measured() -> None:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("front", 1000, EarMethod.AT_THE_EAR))

    lines = own_exposure_lines(stage.show, "front")

    assert lines[0] == "Your wedge: about 100 dB(A) at the ear, if you play as then."
    assert lines[1] == "A whole day's listening at that is about 15 min, between 5 min and 41 min (NIOSH)."


def test_beyond_oshas_table_no_time_is_told_on_the_phone() -> None:
    """Source: 29 CFR 1910.95 Table G-16, which ends at 115 dB(A)."""
    stage = measured(1160, 0)
    stage.do(c.ChangeSettings(Settings(exposure_rule="osha")))

    assert own_exposure_lines(stage.show, "ears")[1] == "Time left: none: above 115 dB(A) (OSHA)."


def test_a_level_as_read_tells_how_it_went_and_no_time() -> None:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("ears", 1000, EarMethod.COUPLER, is_field_level=False))
    steady = own_exposure_lines(stage.show, "ears")
    stage.correct("ears", None, level=stage.level("ears", None) + 30)

    assert steady[0].startswith("Your in-ears: about 100 dB(A) as read in the ear canal or coupler at the")
    assert steady[1:3] == (
        "That is no figure of a rule, so no time is told.",
        "Not noticeably louder than when it was measured.",
    )
    assert own_exposure_lines(stage.show, "ears")[2] == (
        "It may last a half of the time that it could when it was measured (NIOSH)."
    )


def test_a_rise_is_told_with_both_times() -> None:
    stage = measured(840, 0)
    for _ in range(4):
        stage.wait(600)
        stage.correct("ears", None, level=stage.level("ears", None) + 10)

    line = forecast_line(stage.show, "ears")

    assert line.startswith(
        f"If it goes on rising as in the half hour before {local_time(stage.now_ms)}, the day is full at about "
    )
    assert ", perhaps as early as " in line.partition("; at this level at about ")[0]
    assert ", perhaps as early as " in line.partition("; at this level at about ")[2]


def test_what_a_phone_says_of_the_day_turns_by_time_alone() -> None:
    """Worked by hand: 94 dB(A) for an hour, read 4.44 dB too low for 60 / 2.79 = 21.5 min (NIOSH 98-126)."""
    stage = measured(940, 0)
    began_ms, early_s = stage.now_ms, 3600 / 2 ** (4.4418 / 3)
    full, early = local_time(began_ms + 3_600_000), local_time(began_ms + int(early_s * 1000))

    said = [
        [line.text for line in own_exposure(stage.show, "ears") if line.holds_at(began_ms + seconds * 1000)][
            2:-2
        ]
        for seconds in (0, int(early_s) - 5, int(early_s) + 5, 3595, 3605, 23 * 3600, 25 * 3600)
    ]

    assert said == [
        [f"At this level the day is full at about {full}, perhaps as early as {early} (NIOSH)."],
        [f"At this level the day is full at about {full}, perhaps as early as {early} (NIOSH)."],
        [f"At this level the day is full at about {full}, perhaps already (NIOSH)."],
        [f"At this level the day is full at about {full}, perhaps already (NIOSH)."],
        ["The day is full (NIOSH)."],
        ["The day is full (NIOSH)."],
        [],
    ]


def test_mix_page_never_says_a_time_that_is_over_beside_a_full_day() -> None:
    stage = measured(940, 61 / 60)

    view = exposure_view(stage.show, "ears", ear_exposure(stage.show, "ears", stage.now_ms))

    figures = {one.name: one.value for one in view.figures}
    assert figures["time left at this level"] == "none: the day is full"
    assert (view.forecast, view.as_of) == (("The day is full (NIOSH).",), local_time(stage.now_ms))


def test_a_rise_that_did_not_come_is_told_as_a_level_that_stayed() -> None:
    stage = measured(900, 0)
    for _ in range(4):
        stage.wait(600)
        stage.correct("ears", None, level=stage.level("ears", None) + 10)
    found = last_forecast(stage.show, "ears")
    assert found is not None
    assert found.rising_ms is not None

    rising, later = (forecast_line(stage.show, "ears", found.rising_ms + step) for step in (-1, 1))

    assert rising.startswith("If it goes on rising")
    assert later.startswith("At this level the day is full at about ")


def test_a_level_that_was_low_and_rises_may_fill_the_day_at_its_careful_end() -> None:
    """Worked by hand: 77.4 dB(A) lasts 46 h, read 4.44 dB too low 17; rising by 6 dB/h from there it is full in less."""
    stage = measured(740, 0)
    for _ in range(34):
        stage.wait(60)
        stage.correct("ears", None, level=stage.level("ears", None) + 1)
    found = last_forecast(stage.show, "ears")
    assert found is not None
    assert found.rising_earliest_ms is not None

    assert forecast_line(stage.show, "ears").endswith(
        f"full at about {local_time(found.rising_ms)}, perhaps as early as {local_time(found.rising_earliest_ms)} (NIOSH)."
    )
    assert forecast_line(stage.show, "ears", (found.rising_ms or 0) + 1) == ""


def test_a_full_day_is_told_as_full() -> None:
    stage = measured(1000, 1)
    stage.correct("ears", None, level=stage.level("ears", None) - 1)

    assert forecast_line(stage.show, "ears") == "The day is full (NIOSH)."


def test_a_day_that_is_full_only_if_it_was_read_too_low_is_told_by_its_earliest() -> None:
    """Worked by hand: 84 dB(A) is allowed for 10.08 h, 4.44 dB more for 3.61 h (NIOSH 98-126)."""
    stage = measured(840, 0)
    early = local_time(stage.now_ms + 12_999_731)

    line = forecast_line(stage.show, "ears")

    assert line == f"At this level the day may be full as early as {early} (NIOSH)."


def test_what_may_be_full_already_is_told_so_and_one_minute_is_told_once() -> None:
    stage = measured(940, 0.5)
    stage.correct("ears", None, level=stage.level("ears", None) - 1)
    perhaps = forecast_line(stage.show, "ears")
    short = forecast_line(measured(1250, 0).show, "ears")

    assert ", perhaps already (NIOSH)." in perhaps
    assert "perhaps as early" not in short
    assert "the day is full at about " in short


@pytest.mark.parametrize(("mix", "how"), [("ears", EarMethod.COUPLER), ("front", EarMethod.AT_THE_EAR)])
@pytest.mark.parametrize("rule", get_args(RuleName))
@pytest.mark.parametrize("level", [900, 1000, 1160])
@pytest.mark.parametrize("is_field_level", [True, False])
def test_phone_and_desk_say_the_same_about_an_ear(
    rule: RuleName,
    mix: str,
    how: EarMethod,
    level: int,
    is_field_level: bool,  # noqa: FBT001 - as in the command
) -> None:
    stage = small_stage()
    stage.do(c.ChangeSettings(Settings(exposure_rule=rule)))
    stage.do(m.MeasureEarLevel(mix, level, how, is_field_level=is_field_level))
    for tenths in (10, 20, 10):
        stage.wait(900)
        stage.correct(mix, None, level=stage.level(mix, None) + tenths)

    desk = exposure_view(stage.show, mix, ear_exposure(stage.show, mix, stage.now_ms))
    phone = own_exposure_lines(stage.show, mix)

    at_the_ear = next(one.value for one in desk.figures if one.name == "at the louder ear now")
    assert at_the_ear in phone[0]
    assert set(desk.forecast) <= set(phone)
    assert bool(desk.forecast) == any("full" in line or "none" in line or "last" in line for line in phone)
