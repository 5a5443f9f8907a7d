"""What goes around the guard: rows put back, gains that come, pans, outputs that are off, keys pressed twice."""

import pytest

from monreq.domain import commands as c
from monreq.domain import song_commands as so
from monreq.domain.cautions import CautionCode
from monreq.domain.guard_ear import louder_than_advised
from monreq.domain.history import What, history
from monreq.domain.put_back import SET_SINCE
from monreq.domain.queue import Row
from monreq.domain.requests import Call, Kind, RequestState
from monreq.domain.setup import Mix, Output, Setting
from monreq.domain.typed_commands import EnterTyped
from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage() -> Stage:
    return small_stage()


def row(stage: Stage, mix: str, source: str | None, kind: Kind = Kind.LEVEL) -> Row:
    found = stage.row(mix, source, kind)
    assert found is not None
    return found


def take(stage: Stage, found: Row) -> str:
    return stage.done(*(request.id for request in found.requests))


def lowered_and_given_up(stage: Stage) -> None:
    """Lower the front wedge for a preamp that is not turned after all: 6 dB are to be put back."""
    change = stage.plan_preamp("guitar", 60)
    stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)


def waiting(stage: Stage) -> list[int]:
    return [request.amount for request in stage.show.open_requests.values() if request.is_put_back]


# What is put back.


def test_what_is_put_back_in_part_leaves_the_rest_waiting(stage: Stage) -> None:
    lowered_and_given_up(stage)

    stage.done(*(request.id for request in row(stage, "front", "guitar").requests), change=20)

    assert waiting(stage) == [40]
    assert stage.level("front", "guitar") == -240


def test_what_is_put_back_beside_what_a_musician_asks_comes_after_it(stage: Stage) -> None:
    lowered_and_given_up(stage)
    asked = stage.ask("front", "guitar", 30)

    decision = stage.done(*(request.id for request in row(stage, "front", "guitar").requests), change=40)

    answered = stage.show.decisions[decision]
    own = next(request for request in answered.requests if request.id == asked)
    assert answered.state_of(own) is RequestState.DONE
    assert waiting(stage) == [50]


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
    stage.do(c.EnterSettings("front", {"guitar": Setting(-210)}))
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
    given_up = next(reversed(stage.show.decisions))
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


# Gains that come.


def test_a_gain_turned_down_is_not_made_up_for_above_what_hurt_since(stage: Stage) -> None:
    stage.turn_preamp(stage.plan_preamp("guitar", -100))
    stage.call("ears", Call.HURTS, "bass")

    take(stage, row(stage, "ears", "guitar"))

    assert stage.level("ears", "guitar") == -250


def test_a_gain_turned_down_is_not_made_up_for_above_what_hurt_though_somebody_asked_before_it(
    stage: Stage,
) -> None:
    stage.turn_preamp(stage.plan_preamp("guitar", -100))
    stage.ask("ears", "guitar", 30, "bass")
    stage.call("ears", Call.HURTS, "bass")

    take(stage, row(stage, "ears", "guitar"))

    assert stage.level("ears", "guitar") == -250


def test_a_second_gain_planned_down_hides_no_first_that_is_still_to_be_made_up_for(stage: Stage) -> None:
    stage.turn_preamp(stage.plan_preamp("guitar", -60))
    stage.plan_preamp("guitar", -60)
    stage.ask("ears", "guitar", 120, "bass")

    take(stage, row(stage, "ears", "guitar"))

    assert stage.level("ears", "guitar") <= -250 + 60 + 30


def test_what_comes_in_before_a_planned_gain_is_turned_comes_in_as_much_lower(stage: Stage) -> None:
    stage.done(stage.ask_out("ears", "guitar", "bass"))
    stage.plan_preamp("guitar", 120)
    stage.ask_in("ears", "guitar", "bass")

    take(stage, row(stage, "ears", "guitar", Kind.IN_OUT))

    assert stage.level("ears", "guitar") == -370


# Pans, and outputs that are off.


def test_undo_of_a_pan_leaves_no_ear_above_the_bound(stage: Stage) -> None:
    for source in ("voice", "drums", "guitar", "talk", "click"):
        stage.put("ears", source, -250, -100)
    centred = [stage.done(stage.ask_pan("ears", source, 100, "bass")) for source in ("voice", "drums")]
    stage.mark()
    for _ in range(3):
        stage.ask("ears", None, 30, "bass")
        take(stage, row(stage, "ears", None))
        stage.wait(600)

    for decision in centred:
        stage.undo(decision)

    assert louder_than_advised(stage.show, "ears") is None
    assert stage.row("ears", "voice", Kind.PAN) is not None


def test_sends_asked_up_while_an_output_is_off_come_to_no_more_when_it_is_on(stage: Stage) -> None:
    stage.mark()
    stage.correct("ears", None, is_on=False)
    for source in ("voice", "drums", "guitar", "click"):
        for _ in range(5):
            stage.ask("ears", source, 30, "bass")
            take(stage, row(stage, "ears", source))
            stage.wait(600)

    stage.correct("ears", None, is_on=True)

    assert louder_than_advised(stage.show, "ears") is None


# Keys that are pressed twice, and mixes that come out elsewhere.


def test_a_song_begun_and_ended_in_a_second_is_no_new_gap(stage: Stage) -> None:
    stage.do(so.BeginSong())
    stage.wait(240)
    stage.do(so.BeginGap())
    stage.ask("ears", "voice", 30, "bass")
    take(stage, row(stage, "ears", "voice"))

    for _ in range(3):
        stage.do(so.BeginSong())
        stage.do(so.BeginGap())
    stage.ask("ears", "voice", 30, "bass")

    assert row(stage, "ears", "voice").suggestion.move == 0


def test_a_song_taken_back_is_no_new_gap(stage: Stage) -> None:
    stage.do(so.BeginSong())
    stage.wait(240)
    stage.do(so.BeginGap())
    stage.ask("ears", "voice", 30, "bass")
    take(stage, row(stage, "ears", "voice"))
    stage.wait(60)

    stage.do(so.BeginSong())
    stage.do(so.TakeBackStretch())
    stage.ask("ears", "voice", 30, "bass")

    assert row(stage, "ears", "voice").suggestion.move == 0


def test_a_mix_that_comes_out_elsewhere_and_back_remembers_its_evening_and_what_hurt(stage: Stage) -> None:
    stage.mark()
    for _ in range(3):
        stage.ask("ears", None, 30, "bass")
        take(stage, row(stage, "ears", None))
        stage.wait(600)
    facts = stage.show.mix("ears")

    stage.do(c.PutMix(Mix("ears", facts.name, Output.WEDGE, facts.musicians)))
    stage.do(c.PutMix(facts))
    before = stage.level("ears", None)
    for _ in range(6):
        stage.ask("ears", None, 30, "bass")
        take(stage, row(stage, "ears", None))
        stage.wait(600)

    assert before == -100
    assert louder_than_advised(stage.show, "ears") is None
    assert stage.level("ears", None) < 0  # six raises of 3 dB, but for what the evening had already


def test_what_the_guard_knows_is_the_fold_of_the_log_and_goes_with_what_it_is_about(stage: Stage) -> None:
    stage.mark()
    stage.done(stage.ask("front", "voice", 30))
    stage.call("front", Call.SQUEAL)
    stage.done(stage.ask_out("front", "drums"))

    stage.do(c.RemoveSource("voice"))
    without_voice = stage.show.past
    stage.do(c.RemoveMix("front"))

    past = stage.show.past
    assert all("voice" not in one.levels.sends for one in without_voice.began.values())
    assert all("voice" not in one.stood.levels.sends for one in without_voice.disproofs)
    assert [mix for mix, _ in past.began] == ["ears"]
    assert (past.before_raises, past.disproofs, past.last_heard) == ({}, (), {})
    assert stage.at(stage.show.revision) == stage.show


def test_what_was_lowered_in_the_very_moment_before_a_song_is_not_taken_back_in_it_at_once(
    stage: Stage,
) -> None:
    decision = stage.done(stage.ask("ears", "voice", -60, "bass"))
    stage.do(so.BeginSong())
    stage.wait(300)

    stage.undo(decision)

    assert stage.level("ears", "voice") == -280
    assert waiting(stage) == [30]
