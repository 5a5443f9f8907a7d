"""Entering what was measured: margins where something can ring, staleness, open mics."""

import pytest

from monreq.domain import measuring_commands as m
from monreq.domain.readings import MarginReading
from monreq.domain.refusals import (
    NoMarginHere,
    NoOpenMics,
    OutsideRange,
    SourceNotInMix,
    UnknownMix,
    WordsRequired,
)
from monreq.domain.subjects import mix_subject, subjects
from tests.support.stage import Stage


def test_a_reading_keeps_how_things_stood(stage: Stage) -> None:
    stage.turn_preamp(stage.plan_preamp("voice", 30), though_rows_wait=True)
    stage.put("front", "voice", -120)
    stage.put("front", None, -20)
    stage.wait(9)

    stage.read_margin("front", "voice", 85, open_mics=5)

    reading = stage.show.readings["front", "voice"]
    assert reading == MarginReading(
        85,
        5,
        -120,
        -20,
        stage.now_ms,
        gain_tenths=30,
        revision=stage.show.revision,
        gains={"voice": 30},
    )


@pytest.mark.parametrize(("mix", "source"), [("front", "guitar"), ("ears", "voice")])
def test_a_reading_where_nothing_can_ring_is_refused(stage: Stage, mix: str, source: str) -> None:
    with pytest.raises(NoMarginHere):
        stage.read_margin(mix, source, 90)


@pytest.mark.parametrize("source", ["voice", None])
def test_a_reading_of_a_mic_or_a_wedge_that_is_off_is_refused(stage: Stage, source: str | None) -> None:
    stage.correct("front", source, is_on=False)

    with pytest.raises(NoMarginHere):
        stage.read_margin("front", "voice", 90)


def test_a_reading_of_what_is_not_there_is_refused(stage: Stage) -> None:
    with pytest.raises(UnknownMix):
        stage.read_margin("nosuch", "voice", 90)
    with pytest.raises(SourceNotInMix):
        stage.read_margin("front", "click", 90)


@pytest.mark.parametrize("margin", [-1, 401, 10**30])
def test_a_margin_that_cannot_be_is_refused(stage: Stage, margin: int) -> None:
    with pytest.raises(OutsideRange):
        stage.read_margin("front", "voice", margin)


@pytest.mark.parametrize("number", [0, -3, 1001, 10**400])
def test_a_number_of_open_mics_that_cannot_be_is_refused(stage: Stage, number: int) -> None:
    with pytest.raises(NoOpenMics):
        stage.read_margin("front", "voice", 90, open_mics=number)
    with pytest.raises(NoOpenMics):
        stage.open_mics(number)


def test_the_same_number_of_open_mics_is_no_news(stage: Stage) -> None:
    stage.open_mics(4)

    assert stage.do(m.CountOpenMics(4)) == ()
    assert stage.show.open_mics == 4


def test_only_the_named_mix_becomes_stale_and_says_why(stage: Stage) -> None:
    stage.wedge("fill")
    stage.read_margin("front", "voice", 90)
    stage.read_margin("fill", "voice", 80)

    stage.make_stale("front", "EQ at 2 k")

    because = {mix: reading.stale_because for (mix, _), reading in stage.show.readings.items()}
    assert because == {"front": "EQ at 2 k", "fill": ""}


@pytest.mark.parametrize("because", ["", "  ", "\u202e"])
def test_what_changed_has_to_be_said(stage: Stage, because: str) -> None:
    with pytest.raises(WordsRequired) as refused:
        stage.make_stale("front", because)

    assert refused.value.sentence == "Say in words what changed."


def test_a_mix_without_a_reading_has_nothing_to_become_stale(stage: Stage) -> None:
    assert stage.do(m.MakeMarginsStale("front", "another mic")) == ()
    with pytest.raises(UnknownMix):
        stage.make_stale("nosuch")


def test_what_is_measured_in_a_mix_concerns_no_other(stage: Stage) -> None:
    before = stage.show.changed_at

    stage.read_margin("front", "voice", 90)

    assert subjects(stage.log[-1].event) == (mix_subject("front"),)
    assert stage.show.changed_at == {**before, "front": stage.show.revision}


@pytest.mark.parametrize("margin", [0, 400])
def test_a_margin_goes_from_nothing_to_forty_db(stage: Stage, margin: int) -> None:
    stage.read_margin("front", "voice", margin)

    assert stage.show.readings["front", "voice"].margin_tenths == margin
