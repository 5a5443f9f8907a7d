"""What is put back goes up once: beside a gain that was turned, beside what a musician asks, and after a call."""

import pytest

from monreq.domain import commands as c
from monreq.domain.cautions import Basis, Caution, CautionCode
from monreq.domain.history import What, history
from monreq.domain.put_back import SET_SINCE
from monreq.domain.requests import Call, Outcome, RequestState
from monreq.domain.sense import Doubt, DoubtCode, MakesLittleSense
from monreq.domain.telling_commands import TakeBackRaise
from monreq.domain.typed_commands import EnterTyped
from tests.support.queue_rows import row, take
from tests.support.stage import Stage


def waiting(stage: Stage) -> list[int]:
    return [request.amount for request in stage.show.open_requests.values() if request.is_put_back]


def lowered_and_turned(stage: Stage, left_tenths: int) -> str:
    """Lower the front wedge for a gain that is turned up 3 dB then: so much margin is left as was before."""
    stage.read_margin("front", "voice", left_tenths, open_mics=3)
    change = stage.plan_preamp("voice", 30)
    decision = stage.done(stage.compensating(change)["front"])
    stage.turn_preamp(change, though_rows_wait=True)
    return decision


def lowered_and_given_up(stage: Stage, source: str) -> None:
    """Lower the front wedge for a gain that is not turned after all: 4 dB are to be put back."""
    change = stage.plan_preamp(source, 40)
    stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)


# Beside a gain that was turned.


def test_undo_at_the_reserve_of_what_was_lowered_for_a_turned_gain_leaves_nothing_to_do(stage: Stage) -> None:
    decision = lowered_and_turned(stage, left_tenths=30)

    stage.undo(decision)

    assert stage.level("front", "voice") == -230
    assert stage.row("front", "voice") is None


def test_undo_in_part_of_what_was_lowered_for_a_turned_gain_is_done_again_once(stage: Stage) -> None:
    decision = lowered_and_turned(stage, left_tenths=35)

    stage.undo(decision)
    raised, again = stage.level("front", "voice"), row(stage, "front", "voice")
    take(stage, again)

    assert (raised, again.suggestion.move) == (-225, -5)
    assert stage.level("front", "voice") == -230
    assert stage.row("front", "voice") is None


def test_undo_of_two_answers_for_a_turned_gain_leaves_in_place_what_each_may_not_put_up(stage: Stage) -> None:
    stage.read_margin("front", "voice", 30, open_mics=3)
    change = stage.plan_preamp("voice", 30)
    decisions = [stage.done(stage.compensating(change)["front"], change=one) for one in (-10, -20)]
    stage.turn_preamp(change, though_rows_wait=True)

    for decision in decisions:
        stage.undo(decision)

    assert stage.level("front", "voice") == -230
    assert stage.row("front", "voice") is None


def test_what_a_musician_asked_down_beside_a_turned_gain_waits_again_and_alone_is_put_back(
    stage: Stage,
) -> None:
    stage.read_margin("front", "voice", 30, open_mics=3)
    change = stage.plan_preamp("voice", 30)
    own = stage.ask("front", "voice", -10)
    decision = take(stage, row(stage, "front", "voice"))
    stage.turn_preamp(change, though_rows_wait=True)
    stage.read_margin("front", "voice", 30, open_mics=3)

    stage.undo(decision)

    assert (stage.level("front", "voice"), waiting(stage)) == (-240, [10])
    assert own in stage.show.open_requests
    assert "front" not in stage.compensating(change)
    assert row(stage, "front", "voice").asked == 0


def test_undo_before_a_gain_is_turned_lets_what_makes_up_for_it_wait_whole(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 30)
    decision = stage.done(stage.compensating(change)["front"])
    stage.call("front", Call.HURTS)

    stage.undo(decision)
    stage.drop_preamp(change)

    assert stage.level("front", "voice") + sum(waiting(stage)) == -200


# Beside what a musician asks.


def test_what_was_done_in_a_row_puts_back_first_and_the_musician_has_the_rest(stage: Stage) -> None:
    lowered_and_given_up(stage, "guitar")
    asked = stage.ask("front", "guitar", 60)

    decision = take(stage, row(stage, "front", "guitar"), change=60)

    answered = stage.show.decisions[decision]
    own = next(request for request in answered.requests if request.id == asked)
    assert waiting(stage) == []
    assert (answered.done_for_put_back, answered.done_for_musicians) == (40, 20)
    assert answered.state_of(own) is RequestState.DONE_IN_PART


def test_a_send_exactly_where_it_stood_has_nothing_to_put_back_whatever_was_asked_beside(
    stage: Stage,
) -> None:
    lowered_and_given_up(stage, "guitar")
    stage.ask("front", "guitar", 120)

    take(stage, row(stage, "front", "guitar"), change=40)

    assert stage.level("front", "guitar") == -200
    assert stage.row("front", "guitar") is None


def test_undo_of_what_put_back_first_waits_for_the_same_again(stage: Stage) -> None:
    lowered_and_given_up(stage, "guitar")
    asked = stage.ask("front", "guitar", 60)
    decision = take(stage, row(stage, "front", "guitar"), change=60)

    stage.undo(decision)

    assert (stage.level("front", "guitar"), waiting(stage)) == (-240, [40])
    assert asked in stage.show.open_requests


def test_less_that_a_musician_asks_is_done_though_something_is_to_be_put_back(stage: Stage) -> None:
    lowered_and_given_up(stage, "guitar")
    stage.ask("front", "guitar", -30)

    decision = take(stage, row(stage, "front", "guitar"), change=-30)

    assert stage.show.decisions[decision].done_for_musicians == -30
    assert waiting(stage) == [40]


# After a call.


@pytest.mark.parametrize("call", [Call.HURTS, Call.SQUEAL])
def test_a_call_answered_anew_is_not_undone_by_what_an_undo_left_to_be_put_back(
    stage: Stage, call: Call
) -> None:
    request = stage.call("front", call)
    stage.undo(stage.done(request, change=-60))
    held_back = waiting(stage)

    stage.done(request, change=-60)

    entry = history(stage.log)[-1]
    assert held_back
    assert waiting(stage) == []
    assert (entry.what, entry.source, entry.reason) == (What.WITHDRAWN, None, SET_SINCE)


@pytest.mark.parametrize("to_tenths", [-260, None])
def test_a_send_turned_down_or_out_at_a_call_is_not_put_back_up(stage: Stage, to_tenths: int | None) -> None:
    lowered_and_given_up(stage, "guitar")
    lowered_and_given_up(stage, "voice")

    stage.do(TakeBackRaise((stage.call("front", Call.HURTS),), "guitar", to_tenths))

    sources = {one.key.source for one in stage.show.open_requests.values() if one.key.mix == "front"}
    assert sources == {"voice"}


def test_a_call_answered_without_turning_down_leaves_what_is_to_be_put_back(stage: Stage) -> None:
    request = stage.call("front", Call.HURTS)
    stage.undo(stage.done(request, change=-60))
    held_back = waiting(stage)

    stage.not_done(request)

    assert waiting(stage) == held_back != []


# Beside another mic at its reserve.


def test_another_mic_at_its_reserve_that_keeps_something_from_being_put_back_is_named(stage: Stage) -> None:
    stage.read_margin("front", "drums", 30, open_mics=3)
    lowered_and_given_up(stage, "voice")

    suggested = row(stage, "front", "voice").suggestion

    assert suggested.move == 0
    assert suggested.cautions[0] == Caution(CautionCode.AT_RESERVE, 0, 30, "drums", Basis.MEASURED)


def test_what_is_typed_up_beside_another_mic_at_its_reserve_is_asked_about(stage: Stage) -> None:
    stage.read_margin("front", "drums", 30, open_mics=3)
    lowered_and_given_up(stage, "voice")
    ids = tuple(request.id for request in row(stage, "front", "voice").requests)

    with pytest.raises(MakesLittleSense) as refused:
        stage.do(EnterTyped(c.Answer(ids, Outcome.DONE, 40)))

    assert refused.value.doubts == (Doubt(DoubtCode.INTO_RESERVE, "front", "drums", figure=30),)


def test_a_mic_that_comes_in_and_leaves_another_right_at_its_reserve_is_not_asked_about(
    stage: Stage,
) -> None:
    """Worked by hand: 4.8 dB left with two open; a third costs 10 lg(3/2) = 1.8 dB."""
    stage.correct("front", "drums", is_on=False)
    stage.read_margin("front", "voice", 48, open_mics=2)

    stage.do(EnterTyped(c.CorrectLevel("front", "drums", is_on=True)))

    assert stage.setting("front", "drums").is_on
