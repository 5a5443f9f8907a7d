"""What is to be put back, or makes up for a gain, waits until it is done, given up, or set by hand; never longer, nor twice."""

from monreq.domain import commands as c
from monreq.domain.cautions import CautionCode
from monreq.domain.history import What, history
from monreq.domain.put_back import SET_SINCE
from monreq.domain.requests import Call, Kind, RequestState
from monreq.domain.setup import Setting
from monreq.domain.typed_commands import EnterTyped
from tests.support.queue_rows import row, take
from tests.support.stage import Stage


def lowered_and_given_up(stage: Stage) -> None:
    """Lower the front wedge for a preamp that is not turned after all: 6 dB are to be put back."""
    change = stage.plan_preamp("guitar", 60)
    stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)


def waiting(stage: Stage) -> list[int]:
    return [request.amount for request in stage.show.open_requests.values() if request.is_put_back]


def test_what_is_put_back_in_part_leaves_the_rest_waiting(stage: Stage) -> None:
    lowered_and_given_up(stage)

    stage.done(*(request.id for request in row(stage, "front", "guitar").requests), change=20)

    assert waiting(stage) == [40]
    assert stage.level("front", "guitar") == -240


def test_what_is_put_back_beside_what_a_musician_asks_comes_before_it(stage: Stage) -> None:
    lowered_and_given_up(stage)
    asked = stage.ask("front", "guitar", 30)

    decision = stage.done(*(request.id for request in row(stage, "front", "guitar").requests), change=40)

    answered = stage.show.decisions[decision]
    own = next(request for request in answered.requests if request.id == asked)
    assert answered.state_of(own) is RequestState.DONE_IN_PART
    assert waiting(stage) == [20]


def test_undo_of_what_was_put_back_in_part_waits_for_neither_more_nor_less(stage: Stage) -> None:
    lowered_and_given_up(stage)
    decision = stage.done(*(request.id for request in row(stage, "front", "guitar").requests), change=20)

    stage.undo(decision)

    assert stage.level("front", "guitar") == -260
    assert sum(waiting(stage)) == 60


def test_what_is_not_to_be_put_back_is_given_up_by_not_done(stage: Stage) -> None:
    lowered_and_given_up(stage)

    stage.not_done(*(request.id for request in row(stage, "front", "guitar").requests))

    assert waiting(stage) == []


def test_what_was_put_back_and_taken_back_is_not_put_back_twice(stage: Stage) -> None:
    change = stage.plan_preamp("guitar", 60)
    lowered = stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)
    stage.undo(take(stage, row(stage, "front", "guitar")))

    stage.undo(lowered)

    assert stage.level("front", "guitar") + sum(waiting(stage)) == -200


def test_undo_of_setting_aside_gives_up_nothing_that_is_to_be_put_back(stage: Stage) -> None:
    change = stage.plan_preamp("guitar", 60)
    aside = stage.set_aside(stage.compensating(change)["front"])
    stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)

    stage.undo(aside)

    assert waiting(stage) == [60]


def test_what_may_not_come_in_by_undo_waits_to_come_in(stage: Stage) -> None:
    decision = stage.done(stage.ask_out("ears", "drums", "bass"))
    stage.do(c.CorrectLevel("ears", "voice", 100))
    stage.call("ears", Call.HURTS, "bass")

    stage.undo(decision)

    assert not stage.setting("ears", "drums").is_on
    assert row(stage, "ears", "drums", Kind.IN_OUT).requests[-1].is_put_back


def test_what_a_hand_set_is_not_put_back_on_top_and_the_history_says_why(stage: Stage) -> None:
    lowered_and_given_up(stage)

    stage.correct("front", "guitar", -200)

    entry = history(stage.log)[-1]
    assert waiting(stage) == []
    assert (entry.what, entry.source, entry.amount, entry.reason) == (What.WITHDRAWN, "guitar", 60, SET_SINCE)


def test_settings_entered_and_figures_typed_settle_what_is_put_back_too(stage: Stage) -> None:
    lowered_and_given_up(stage)
    stage.mark()
    stage.do(c.EnterSettings("front", (("guitar", Setting(-210)),)))
    after_entering = waiting(stage)
    lowered_and_given_up(stage)

    stage.do(EnterTyped(c.CorrectLevel("front", "guitar", -205)))

    assert (after_entering, waiting(stage)) == ([], [])


def test_a_level_that_is_only_confirmed_or_panned_by_hand_still_waits_to_be_put_back(stage: Stage) -> None:
    decision = stage.done(stage.ask("ears", "voice", -120, "bass"))
    stage.wait(600)
    stage.undo(decision)
    held_back = waiting(stage)

    stage.correct("ears", "voice", stage.level("ears", "voice"))
    stage.correct("ears", "voice", pan=20)

    assert held_back == [90]
    assert waiting(stage) == held_back


def test_undo_of_what_a_hand_set_since_puts_nothing_up_again(stage: Stage) -> None:
    change = stage.plan_preamp("guitar", 60)
    decision = stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)
    stage.correct("front", "guitar", -200)

    stage.undo(decision)

    assert stage.level("front", "guitar") == -200
    assert waiting(stage) == []


def test_undo_of_what_was_put_back_meanwhile_puts_nothing_up_again(stage: Stage) -> None:
    change = stage.plan_preamp("guitar", 60)
    decision = stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)
    stage.done(*(request.id for request in row(stage, "front", "guitar").requests), change=60)

    stage.undo(decision)

    assert stage.level("front", "guitar") == -200
    assert waiting(stage) == []


def test_undo_of_one_of_two_lowerings_leaves_the_other_to_be_put_back(stage: Stage) -> None:
    change = stage.plan_preamp("guitar", 60)
    first = stage.done(stage.compensating(change)["front"], change=-40)
    stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)

    stage.undo(first)

    assert stage.level("front", "guitar") == -220
    assert waiting(stage) == [20]


def test_a_plan_given_up_after_a_hand_set_the_send_puts_nothing_back_and_says_so(stage: Stage) -> None:
    change = stage.plan_preamp("guitar", 60)
    stage.done(stage.compensating(change)["front"])
    stage.correct("front", "guitar", -200)

    stage.drop_preamp(change)

    told = [entry for entry in history(stage.log) if entry.reason == SET_SINCE]
    assert waiting(stage) == []
    assert [(entry.what, entry.source, entry.amount) for entry in told] == [(What.WITHDRAWN, "guitar", 60)]


def test_not_done_gives_up_what_a_musician_asks_and_what_is_put_back_waits_on(stage: Stage) -> None:
    lowered_and_given_up(stage)
    asked = stage.ask("front", "guitar", -30)

    decision = stage.not_done(*(request.id for request in row(stage, "front", "guitar").requests))
    after_answer = waiting(stage)
    stage.undo(decision)

    assert after_answer == [60]
    assert waiting(stage) == [60]
    assert asked in stage.show.open_requests


def test_what_was_given_up_and_then_put_back_by_undo_waits_no_more(stage: Stage) -> None:
    change = stage.plan_preamp("guitar", 60)
    lowered = stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)
    given_up = stage.not_done(*(request.id for request in row(stage, "front", "guitar").requests))
    stage.undo(lowered)

    stage.undo(given_up)

    assert stage.level("front", "guitar") + sum(waiting(stage)) == -200


def test_what_was_given_up_with_a_send_does_not_come_back_with_another(stage: Stage) -> None:
    lowered_and_given_up(stage)
    stage.do(c.RemoveSend("front", "guitar"))
    given_up = list(stage.show.decisions)[-1]
    stage.put("front", "guitar", -200)

    stage.undo(given_up)

    assert waiting(stage) == []


def test_what_is_to_come_in_waits_no_more_once_a_hand_put_it_in(stage: Stage) -> None:
    decision = stage.done(stage.ask_out("ears", "drums", "bass"))
    stage.do(c.CorrectLevel("ears", "voice", 100))
    stage.call("ears", Call.HURTS, "bass")
    stage.undo(decision)
    waited = len(waiting(stage))

    stage.correct("ears", "drums", is_on=True)

    assert (waited, waiting(stage)) == (1, [])


def test_an_old_ask_is_not_renewed_by_a_gain_turned_after_it_hurt(stage: Stage) -> None:
    stage.ask("ears", "guitar", 60, "bass")
    stage.call("ears", Call.HURTS, "bass")
    stage.correct("ears", None, -300)
    stage.turn_preamp(stage.plan_preamp("guitar", -60))

    suggested = row(stage, "ears", "guitar").suggestion

    assert suggested.move == 60
    assert [one.code for one in suggested.cautions][-1] is CautionCode.ASKED_BEFORE_HURTS
