"""Levels measured at the ear: what is taken, what is refused."""

from typing import get_args

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.decide_exposure import HIGHEST_EAR_TENTHS
from monreq.domain.ear_levels import level_at_ear
from monreq.domain.ear_refusals import MeasureAtTheEar, NoEarLevel, NothingToMeasure, SayHowMeasured
from monreq.domain.exposure import RuleName
from monreq.domain.exposure_limits import ceiling
from monreq.domain.readings import EarMethod
from monreq.domain.refusals import TextTooLong, UnknownMix, UnknownRule
from monreq.domain.setup import Settings
from tests.support.ear_levels import COUPLER, OTHER, measured_stage
from tests.support.stage import small_stage


@pytest.mark.parametrize("level", [399, 1401, -60, 0, 10**9])
def test_an_absurd_level_is_refused(level: int) -> None:
    with pytest.raises(NoEarLevel):
        measured_stage(level)


def test_the_highest_level_taken_is_the_ceiling_of_every_rule() -> None:
    assert {ceiling(rule).figure for rule in get_args(RuleName)} == {HIGHEST_EAR_TENTHS / 10}


@pytest.mark.parametrize("level", [400, 1400])
def test_the_ends_of_the_range_are_taken(level: int) -> None:
    assert measured_stage(level).show.ear_levels["ears"][0].level_tenths == level


@pytest.mark.parametrize("how", [COUPLER, OTHER])
def test_a_wedge_is_measured_at_the_ear_alone(how: EarMethod) -> None:
    with pytest.raises(MeasureAtTheEar):
        small_stage().do(m.MeasureEarLevel("front", 940, how, "held to the grille"))


@pytest.mark.parametrize("words", ["", "  ", "\x00"])
def test_another_way_has_to_be_said(words: str) -> None:
    with pytest.raises(SayHowMeasured):
        small_stage().do(m.MeasureEarLevel("ears", 940, OTHER, words))


def test_another_way_is_kept_in_its_words() -> None:
    stage = small_stage()

    stage.do(m.MeasureEarLevel("ears", 940, OTHER, " a probe  mic "))

    assert stage.show.ear_levels["ears"][0].words == "a probe mic"


def test_words_without_end_are_refused() -> None:
    with pytest.raises(TextTooLong):
        small_stage().do(m.MeasureEarLevel("ears", 940, OTHER, "x" * 5000))


def test_a_silent_mix_has_no_level_to_measure() -> None:
    stage = small_stage()
    stage.correct("ears", None, is_on=False)

    with pytest.raises(NothingToMeasure):
        stage.do(m.MeasureEarLevel("ears", 940, COUPLER))


def test_a_mix_that_is_not_there_is_refused() -> None:
    with pytest.raises(UnknownMix):
        small_stage().do(m.MeasureEarLevel("nosuch", 940, COUPLER))
    with pytest.raises(UnknownMix):
        level_at_ear(small_stage().show, "nosuch")


def test_a_rule_that_is_none_is_refused() -> None:
    settings = Settings(exposure_rule="loudest")  # type: ignore[arg-type]

    with pytest.raises(UnknownRule):
        small_stage().do(c.ChangeSettings(settings))
