"""What a review of the computations found: each error with its own figures, as it is now."""

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain import song_commands as so
from monreq.domain.cautions import CautionCode
from monreq.domain.guard_ear import louder_than_advised
from monreq.domain.last_raise import last_raise
from monreq.domain.margins import margin_of, together_db
from monreq.domain.preamp_refusals import PreampNotCompensated
from monreq.domain.queue import Row
from monreq.domain.requests import Call, Kind, Way
from monreq.domain.setup import Source, SourceKind
from monreq.domain.ways import rest_down_by
from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage() -> Stage:
    return small_stage()


def four_mics(*margins: int) -> Stage:
    """Return a wedge with as many mics as margins, each read alone. [0.1 dB]."""
    stage = Stage()
    stage.musician("singer")
    stage.wedge("front", "singer")
    for place, margin in enumerate(margins):
        stage.source(f"mic{place}")
        stage.read_margin("front", f"mic{place}", margin)
    return stage


def row(stage: Stage, mix: str, source: str | None, kind: Kind = Kind.LEVEL) -> Row:
    found = stage.row(mix, source, kind)
    assert found is not None
    return found


def codes(found: Row) -> list[CautionCode]:
    return [caution.code for caution in found.suggestion.cautions]


def take(stage: Stage, found: Row, way: Way = Way.PLAIN) -> str:
    return stage.done(*(request.id for request in found.requests), way=way)


# E2: the reserve is kept for all mics of a wedge together.


def test_four_mics_read_at_9_db_each_leave_nothing_to_raise() -> None:
    stage = four_mics(90, 90, 90, 90)

    stage.ask("front", "mic0", 60)

    assert together_db(stage.show, "front") == pytest.approx(2.98, abs=0.01)
    assert row(stage, "front", "mic0").suggestion.move == 0
    assert CautionCode.AT_RESERVE in codes(row(stage, "front", "mic0"))


def test_four_mics_raised_one_after_the_other_keep_the_reserve_together() -> None:
    stage = four_mics(150, 150, 150, 150)

    for mic in ("mic0", "mic1", "mic2", "mic3"):
        stage.ask("front", mic, 60)
        take(stage, row(stage, "front", mic))

    assert (together_db(stage.show, "front") or 0) >= 3.0


def test_of_two_unequal_mics_none_goes_up_once_their_reserve_is_used_up() -> None:
    stage = four_mics(90, 40)
    stage.open_mics(2)

    stage.ask("front", "mic0", 60)
    take(stage, row(stage, "front", "mic0"))

    assert (together_db(stage.show, "front") or 0) == pytest.approx(2.81, abs=0.01)
    assert stage.level("front", "mic0") == -200


def test_a_mic_that_nobody_read_goes_up_by_3_db_and_not_in_each_of_ten_trips(stage: Stage) -> None:
    stage.mark()

    for _ in range(10):
        stage.ask("front", "voice", 60)
        take(stage, row(stage, "front", "voice"))
        stage.wait(600)

    assert stage.level("front", "voice") == -170


# E3: what comes in is a raise.


def test_a_mic_faded_up_while_off_comes_in_within_its_margin(stage: Stage) -> None:
    stage.read_margin("front", "voice", 80)
    stage.correct("front", "voice", is_on=False)
    stage.correct("front", "voice", 50)
    stage.ask_in("front", "voice")

    take(stage, row(stage, "front", "voice", Kind.IN_OUT))

    assert stage.level("front", "voice") == -200
    assert (margin_of(stage.show, "front", "voice").left_db or 0) >= 3.0


def test_a_source_off_at_0_comes_into_ears_at_minus_25_without_25_db_more() -> None:
    stage = small_stage()
    stage.mark()
    stage.correct("ears", "guitar", is_on=False)
    stage.correct("ears", "guitar", 0)
    stage.ask_in("ears", "guitar", "bass")

    take(stage, row(stage, "ears", "guitar", Kind.IN_OUT))

    assert stage.level("ears", "guitar") == -250
    assert louder_than_advised(stage.show, "ears") is None


@pytest.mark.parametrize("is_turned_first", [True, False])
def test_a_send_that_is_off_while_its_preamp_goes_up_comes_in_as_much_lower(
    stage: Stage, *, is_turned_first: bool
) -> None:
    stage.correct("ears", "voice", is_on=False)
    change = stage.plan_preamp("voice", 120)
    stage.done(stage.compensating(change)["front"])
    if is_turned_first:
        stage.turn_preamp(change)
    stage.ask_in("ears", "voice", "bass")

    take(stage, row(stage, "ears", "voice", Kind.IN_OUT))

    assert stage.level("ears", "voice") == -370


# E4: what the stage says counts.


def test_a_squeal_disproves_12_db_that_were_read(stage: Stage) -> None:
    stage.read_margin("front", "voice", 120)
    stage.done(stage.call("front", Call.SQUEAL), change=-30)

    stage.ask("front", "voice", 60)

    assert row(stage, "front", "voice").suggestion.move == 0
    assert CautionCode.AFTER_SQUEAL in codes(row(stage, "front", "voice"))


def test_reading_again_after_a_squeal_lets_a_mic_go_up_again(stage: Stage) -> None:
    stage.read_margin("front", "voice", 120)
    stage.done(stage.call("front", Call.SQUEAL), change=-30)
    stage.read_margin("front", "voice", 100, open_mics=3)
    stage.wait(60)

    stage.ask("front", "voice", 60)

    assert row(stage, "front", "voice").suggestion.move == 60


def test_after_hurts_nothing_brings_back_what_hurt(stage: Stage) -> None:
    answered = stage.done(stage.call("ears", Call.HURTS, "bass"))
    stage.ask("ears", None, 120, "bass")
    stage.ask("ears", "voice", 120, "bass")

    take(stage, row(stage, "ears", None))
    take(stage, row(stage, "ears", "voice"))
    stage.undo(answered)

    assert stage.level("ears", None) == -130
    assert stage.level("ears", "voice") == -250


def test_hurts_called_twice_and_taken_back_once_still_counts(stage: Stage) -> None:
    first = stage.call("ears", Call.HURTS, "bass")
    stage.call("ears", Call.HURTS, "drummer")

    stage.withdraw(first)
    stage.ask("ears", "voice", 30, "bass")

    assert row(stage, "ears", "voice").suggestion.move == 0


# E5: in-ears are bounded over the evening.


@pytest.mark.parametrize("is_marked", [True, False])
def test_a_whole_mix_asked_up_by_3_db_six_times_goes_up_by_6(stage: Stage, *, is_marked: bool) -> None:
    if is_marked:
        stage.mark()

    for _ in range(6):
        stage.ask("ears", None, 30, "bass")
        take(stage, row(stage, "ears", None))
        stage.wait(600)

    assert stage.level("ears", None) == -40


def test_a_click_asked_up_by_33_db_is_bounded_like_everything_else(stage: Stage) -> None:
    stage.mark()
    stage.put("ears", "guitar", -250)

    for _ in range(12):
        stage.ask("ears", "click", 30, "drummer")
        take(stage, row(stage, "ears", "click"))
        stage.wait(600)

    assert stage.level("ears", "click") <= -250 + 120
    assert louder_than_advised(stage.show, "ears") is None


def test_a_second_mark_is_no_new_allowance(stage: Stage) -> None:
    stage.mark()
    for _ in range(3):
        stage.ask("ears", None, 30, "bass")
        take(stage, row(stage, "ears", None))
        stage.wait(600)
    stage.mark()

    stage.ask("ears", None, 30, "bass")

    assert row(stage, "ears", None).suggestion.move == 0
    assert CautionCode.EVENING_LIMIT in codes(row(stage, "ears", None))


# E8: one trip is one gap, however many rows.


def test_group_source_and_whole_mix_in_one_gap_come_to_one_trip(stage: Stage) -> None:
    stage.mark()
    stage.do(so.BeginSong())
    stage.wait(240)
    stage.do(so.BeginGap())
    for source in ("drums", "drums", None):
        stage.ask("ears", source, 30, "bass")
        take(stage, row(stage, "ears", source))

    assert stage.level("ears", "drums") + stage.level("ears", None) - (-250 - 100) <= 30


# E9: undo upwards is a raise.


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


# E10: preamps.


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


# E12: rest down, and what can ring.


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


# E14: same loudness leaves the reserve in whichever order the two hands go.


def test_same_loudness_raises_no_send_beyond_what_its_wedge_takes_before_the_output_is_down(
    stage: Stage,
) -> None:
    stage.read_margin("front", "voice", 50, open_mics=3)
    stage.ask("front", "voice", 60)

    take(stage, row(stage, "front", "voice"), Way.SAME_LOUDNESS)

    assert stage.level("front", "voice") == -180
    assert stage.level("front", None) < 0
