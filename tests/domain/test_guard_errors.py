"""Errors that suggestions once made, each with its own figures: bounds hold an evening and not a row alone."""

import pytest

from monreq.domain.cautions import CautionCode
from monreq.domain.guard_ear import louder_than_advised
from monreq.domain.margins import margin_of
from monreq.domain.queue import Row
from monreq.domain.requests import Call, Kind, Way
from tests.support.loops import together_db
from tests.support.queue_rows import row
from tests.support.stage import Stage, small_stage


def four_mics(*margins: int) -> Stage:
    """Return a wedge with as many mics as margins, each read alone. [0.1 dB]."""
    stage = Stage()
    stage.musician("singer")
    stage.wedge("front", "singer")
    for place, margin in enumerate(margins):
        stage.source(f"mic{place}")
        stage.read_margin("front", f"mic{place}", margin)
    return stage


def codes(found: Row) -> list[CautionCode]:
    return [caution.code for caution in found.suggestion.cautions]


def take(stage: Stage, found: Row, way: Way = Way.PLAIN) -> str:
    return stage.done(*(request.id for request in found.requests), way=way)


# The reserve is kept for all mics of a wedge together.


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


# What comes in is a raise.


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


# What the stage says counts.


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


# In-ears are bounded over the evening.


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
