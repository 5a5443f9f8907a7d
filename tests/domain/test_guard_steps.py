"""Errors that suggestions once made over gaps, undo, preamps and ways, each with its own figures."""

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain import song_commands as so
from monreq.domain.cautions import CautionCode
from monreq.domain.last_raise import last_raise
from monreq.domain.margins import margin_of
from monreq.domain.preamp_refusals import PreampNotCompensated
from monreq.domain.requests import Call, Way
from monreq.domain.setup import Source, SourceKind
from monreq.domain.ways import rest_down_by
from tests.domain.test_guard_errors import codes, take
from tests.support.queue_rows import row
from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage() -> Stage:
    return small_stage()


# One trip is one gap, however many rows.


def test_group_source_and_whole_mix_in_one_gap_come_to_one_trip(stage: Stage) -> None:
    stage.mark()
    stage.do(so.BeginSong())
    stage.wait(240)
    stage.do(so.BeginGap())
    for source in ("drums", "drums", None):
        stage.ask("ears", source, 30, "bass")
        take(stage, row(stage, "ears", source))

    assert stage.level("ears", "drums") + stage.level("ears", None) - (-250 - 100) <= 30


# Undo upwards is a raise.


def test_undo_of_minus_12_comes_in_steps_and_the_rest_waits(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", -120))
    stage.wait(600)

    stage.undo(decision)

    waiting = row(stage, "front", "voice")
    assert stage.level("front", "voice") == -260
    assert [request.is_put_back for request in waiting.requests] == [False, True]
    assert waiting.requests[1].amount == 60


def test_undo_within_the_gap_goes_back_at_once(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", -120))

    stage.undo(decision)

    assert stage.level("front", "voice") == -200


def test_undo_of_minus_12_keeps_a_margin_of_4_read_in_between(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", -120))
    stage.read_margin("front", "voice", 40, open_mics=3)

    stage.undo(decision)

    assert stage.level("front", "voice") == -310
    assert (margin_of(stage.show, "front", "voice").left_db or 0) >= 3.0


# Preamps.


def test_gain_is_not_turned_while_rows_wait_that_make_up_for_it(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 120)

    with pytest.raises(PreampNotCompensated):
        stage.turn_preamp(change)

    stage.do(m.ConfirmPreamp(change, though_rows_wait=True))
    assert stage.show.gains == {"voice": 120}


def test_a_plan_dropped_half_way_leaves_rows_that_put_it_back(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    stage.done(stage.compensating(change)["front"])

    stage.drop_preamp(change)

    waiting = row(stage, "front", "voice")
    assert [(request.is_put_back, request.amount) for request in waiting.requests] == [(True, 60)]
    assert stage.row("ears", "voice") is None


def test_an_effect_return_loses_margin_with_the_mic_that_feeds_it() -> None:
    stage = small_stage()
    stage.source("verb", kind=SourceKind.RETURN)
    stage.read_margin("front", "verb", 60, open_mics=3)
    change = stage.plan_preamp("voice", 120)
    for request in stage.compensating(change).values():
        stage.done(request)

    stage.turn_preamp(change)

    assert margin_of(stage.show, "front", "verb").left_db == pytest.approx(-6.0)


def test_a_touch_of_an_hour_ago_is_not_the_first_thing_to_take_back(stage: Stage) -> None:
    stage.mark()
    stage.done(stage.ask("front", "voice", 10))
    stage.wait(3600)

    stage.call("front", Call.SQUEAL)

    assert last_raise(stage.show, "front") is None


# Rest down, and what can ring.


def test_rest_down_leaves_the_click_and_goes_one_trip_far(stage: Stage) -> None:
    stage.ask("ears", "voice", 120, "bass")
    stage.ask("ears", "voice", 60, "bass")

    found = row(stage, "ears", "voice")
    by = rest_down_by(stage.show, found)
    take(stage, found, Way.REST_DOWN)

    assert by == 30
    assert stage.level("ears", "click") == -250
    assert stage.level("ears", "guitar") == -280


def test_a_pickup_in_an_acoustic_body_can_ring_in_a_wedge(stage: Stage) -> None:
    stage.do(c.PutSource(Source("fiddle", "Fiddle", SourceKind.DIRECT, is_acoustic=True)))

    stage.ask("front", "fiddle", 60)

    assert row(stage, "front", "fiddle").suggestion.move == 30
    assert CautionCode.MARGIN_NOT_MEASURED in codes(row(stage, "front", "fiddle"))


# Same loudness leaves the reserve in whichever order the two hands go.


def test_same_loudness_raises_no_send_beyond_what_its_wedge_takes_before_the_output_is_down(
    stage: Stage,
) -> None:
    stage.read_margin("front", "voice", 50, open_mics=3)
    stage.ask("front", "voice", 60)

    take(stage, row(stage, "front", "voice"), Way.SAME_LOUDNESS)

    assert stage.level("front", "voice") == -180
    assert stage.level("front", None) < 0
