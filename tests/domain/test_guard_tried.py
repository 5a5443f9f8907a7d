"""What whole evenings by keyboard found: what others in a wedge do to its margin, and what a call means for what waits."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import feedback
from monreq.domain import group_commands as g
from monreq.domain import measuring_commands as m
from monreq.domain.cautions import CautionCode
from monreq.domain.groups import Group
from monreq.domain.margins import least_margin_db, margin_of
from monreq.domain.queue import Row
from monreq.domain.readings import EarMethod
from monreq.domain.requests import Call, Kind, Outcome
from monreq.domain.sense import DoubtCode, MakesLittleSense
from monreq.domain.typed_commands import EnterTyped
from tests.support.queue_rows import row
from tests.support.stage import Stage


def codes(found: Row) -> set[CautionCode]:
    return {one.code for one in found.suggestion.cautions}


def test_mic_that_would_take_another_past_its_reserve_stays_off(stage: Stage) -> None:
    """Worked by hand: 1 dB left with two open; a third costs 10 lg(3/2) = 1.8 dB."""
    stage.correct("front", "drums", is_on=False)
    stage.read_margin("front", "voice", 30, open_mics=2)

    stage.ask_in("front", "drums")

    found = row(stage, "front", "drums", Kind.IN_OUT)
    assert (found.suggestion.move, codes(found)) == (0, {CautionCode.AT_RESERVE})
    assert found.set_to == found.now


def test_nothing_that_can_ring_goes_up_beside_a_mic_at_its_reserve(stage: Stage) -> None:
    stage.read_margin("front", "voice", 30, open_mics=3)

    stage.ask("front", "drums", 30)
    stage.ask("front", "guitar", 30)

    assert (row(stage, "front", "drums").suggestion.move, row(stage, "front", "guitar").suggestion.move) == (
        0,
        30,
    )


def test_what_was_asked_before_it_hurt_waits_until_it_is_asked_again(stage: Stage) -> None:
    stage.ask("ears", "voice", 30, "bass")
    stage.done(stage.call("ears", Call.HURTS, "bass"))
    before = row(stage, "ears", "voice")

    stage.ask("ears", "voice", 10, "bass")

    assert (before.suggestion.move, codes(before)) == (0, {CautionCode.ASKED_BEFORE_HURTS})
    assert row(stage, "ears", "voice").suggestion.move == 10


def test_less_that_was_asked_before_it_hurt_is_done_at_once(stage: Stage) -> None:
    stage.ask("ears", "voice", -30, "bass")
    stage.call("ears", Call.HURTS, "bass")

    assert row(stage, "ears", "voice").suggestion.move == -30


def test_mic_that_was_off_when_it_squealed_stays_off_until_it_is_rung_out(stage: Stage) -> None:
    stage.correct("front", "drums", is_on=False)
    stage.read_margin("front", "voice", 120, open_mics=2)
    stage.done(stage.call("front", Call.SQUEAL))

    stage.ask_in("front", "drums")

    found = row(stage, "front", "drums", Kind.IN_OUT)
    assert found.suggestion.move == 0
    assert CautionCode.AFTER_SQUEAL in codes(found)
    assert found.cut_because == "near_feedback"


def test_margin_of_a_wedge_that_squealed_is_told_no_more(stage: Stage) -> None:
    stage.read_margin("front", "voice", 120, open_mics=3)
    read = least_margin_db(stage.show, "front")

    stage.call("front", Call.SQUEAL)

    assert (read, least_margin_db(stage.show, "front")) == (12.0, None)
    assert margin_of(stage.show, "front", "voice").left_db == pytest.approx(12.0)


@given(st.lists(st.floats(0.001, 0.2), min_size=1, max_size=4))
def test_loops_are_found_from_margins_that_were_read_with_all_open(loops: list[float]) -> None:
    """By the definition of the margin: raised by it, the sum of all loops is 1."""
    together = sum(loops)
    read = {
        str(place): (10 * math.log10((1 - together + loop) / loop), max(2, len(loops)))
        for place, loop in enumerate(loops)
    }

    found = feedback.loop_gains(read)

    assert list(found.values()) == pytest.approx(loops, rel=1e-6)


def test_two_of_six_open_mics_are_taken_for_all_that_rings() -> None:
    """Worked by hand: 9 and 11 dB, S = 1/6.943 + 1/11.589 = 0.2303; 0.1171 and 0.0701."""
    assert feedback.loop_gains({"trumpet": (9, 6), "saxophone": (11, 6)}) == pytest.approx(
        {"trumpet": 0.1171, "saxophone": 0.0701}, abs=1e-4
    )


def near_the_end_of_a_day(stage: Stage) -> None:
    stage.mark()
    stage.do(m.MeasureEarLevel("ears", 1060, EarMethod.COUPLER, is_field_level=True))
    stage.wait(60)


def test_nothing_comes_in_and_nothing_is_panned_louder_where_a_day_may_be_full_before_a_song_is_over(
    stage: Stage,
) -> None:
    stage.put("ears", "guitar", -60)
    stage.done(stage.ask_out("ears", "drums", "bass"))
    near_the_end_of_a_day(stage)
    stage.ask_in("ears", "drums", "bass")
    stage.ask_pan("ears", "guitar", 100, "bass")

    comes_in, panned = row(stage, "ears", "drums", Kind.IN_OUT), row(stage, "ears", "guitar", Kind.PAN)

    assert (comes_in.suggestion.move, codes(comes_in)) == (0, {CautionCode.DOSE_FULL})
    assert (panned.suggestion.move, codes(panned)) == (0, {CautionCode.DOSE_FULL})


@pytest.mark.parametrize("aside", [30, -30])
def test_no_pan_gives_either_ear_more_where_a_day_may_be_full_and_one_that_is_typed_is_asked_about(
    stage: Stage, aside: int
) -> None:
    stage.put("ears", "guitar", -60, 100)
    near_the_end_of_a_day(stage)
    request = stage.ask_pan("ears", "voice", aside, "bass")
    assert row(stage, "ears", "voice", Kind.PAN).suggestion.move == 0

    with pytest.raises(MakesLittleSense) as asked:
        stage.do(EnterTyped(c.Answer((request,), Outcome.DONE, aside)))

    assert [doubt.code for doubt in asked.value.doubts] == [DoubtCode.DAY_FULL]


def test_group_of_which_nothing_had_better_come_in_says_why(stage: Stage) -> None:
    stage.do(g.PutGroup(Group("kit", "Kit", ("drums",))))
    stage.done(stage.ask_out("ears", "drums", "bass"))
    near_the_end_of_a_day(stage)
    stage.ask_in("ears", "kit", "bass")

    found = row(stage, "ears", "kit", Kind.IN_OUT)

    assert (found.suggestion.move, codes(found)) == (0, {CautionCode.DOSE_FULL})


def test_figure_typed_up_where_a_day_may_be_full_is_asked_about(stage: Stage) -> None:
    near_the_end_of_a_day(stage)
    request = stage.ask("ears", "voice", 30, "bass")

    with pytest.raises(MakesLittleSense) as asked:
        stage.do(EnterTyped(c.Answer((request,), Outcome.DONE, 10)))

    assert [doubt.code for doubt in asked.value.doubts] == [DoubtCode.DAY_FULL]


def test_raise_of_what_nobody_hears_is_no_raise(stage: Stage) -> None:
    stage.read_margin("front", "voice", 33)
    stage.ask("front", "voice", 60)

    assert row(stage, "front", "voice").suggestion.move == 0
