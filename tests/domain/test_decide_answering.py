"""What the desk answers, takes back, corrects and marks."""

import pytest

from monreq.domain import commands as c
from monreq.domain.events import (
    DecisionUndone,
    LevelCorrected,
    RequestsAnswered,
    RequestsCancelledOut,
    SendPut,
)
from monreq.domain.refusals import (
    AlreadyAnswered,
    AlreadyUndone,
    NoFigureHere,
    NoPanInMono,
    NoRequests,
    OutsideRange,
    PanOutOfRange,
    ReasonRequired,
    SeveralRows,
    SourceNotInMix,
    TextTooLong,
    UndoImpossible,
    UndoOutsideRange,
    UnknownDecision,
    UnknownMix,
    UnknownRequest,
)
from monreq.domain.requests import Call, Kind, Move, Outcome, RowKey
from monreq.domain.setup import Mix, Output, Setting
from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage() -> Stage:
    return small_stage()


def test_done_moves_the_send_by_the_suggested_move(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)

    stage.done(request)

    assert stage.level("front", "voice") == -180
    assert stage.rows == ()


def test_decision_has_the_revision_of_its_event(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)

    decision = stage.done(request)

    assert decision == f"d{stage.show.revision}"
    assert stage.show.decisions[decision].done == 20


def test_decision_answers_exactly_the_named_requests(stage: Stage) -> None:
    seen = stage.ask("front", "voice", 20)
    unseen = stage.ask("front", "voice", 10)

    decision = stage.done(seen)

    assert list(stage.show.open_requests) == [unseen]
    assert [one.id for one in stage.show.decisions[decision].requests] == [seen]
    assert stage.level("front", "voice") == -180


def test_move_that_the_hand_made_is_taken_as_it_was(stage: Stage) -> None:
    request = stage.ask("front", "voice", 60)

    stage.done(request, change=-35)

    assert stage.level("front", "voice") == -235


def test_level_read_off_the_desk_is_taken_instead_of_a_change(stage: Stage) -> None:
    request = stage.ask("front", "voice", 60)

    decision = stage.done(request, read=-123)

    assert stage.level("front", "voice") == -123
    assert stage.show.decisions[decision].done == 77


@pytest.mark.parametrize("change", [301, -701, 10**30])
def test_move_outside_the_range_of_the_desk_is_refused(stage: Stage, change: int) -> None:
    request = stage.ask("front", "voice", 60)

    with pytest.raises(OutsideRange):
        stage.done(request, change=change)

    assert request in stage.show.open_requests


def test_move_to_the_very_end_of_the_range_is_taken(stage: Stage) -> None:
    request = stage.ask("front", "voice", 60)

    stage.done(request, read=100)

    assert stage.level("front", "voice") == 100


def test_pan_is_moved_and_bounded_by_the_sides(stage: Stage) -> None:
    left = stage.ask_pan("ears", "voice", -20, "bass")
    stage.done(left)
    again = stage.ask_pan("ears", "voice", -20, "bass")

    with pytest.raises(PanOutOfRange):
        stage.done(again, change=-81)

    assert stage.setting("ears", "voice") == Setting(-250, -20)


def test_pan_has_no_level_to_read_off(stage: Stage) -> None:
    request = stage.ask_pan("ears", "voice", -20, "bass")

    with pytest.raises(NoFigureHere):
        stage.done(request, read=-100)


def test_in_and_out_turn_the_send_on_and_off_and_keep_its_level(stage: Stage) -> None:
    out = stage.ask_out("front", "voice")
    stage.done(out)
    after_out = stage.setting("front", "voice")

    stage.done(stage.ask_in("front", "voice"))

    assert after_out == Setting(-200, is_on=False)
    assert stage.setting("front", "voice") == Setting(-200)


def test_sound_is_answered_without_a_figure(stage: Stage) -> None:
    request = stage.ask_sound("front", "voice", "muddy")

    with pytest.raises(NoFigureHere):
        stage.done(request, change=10)
    decision = stage.done(request, why="less around 300")

    assert stage.show.decisions[decision].move is None
    assert stage.show.decisions[decision].reason == "less around 300"


def test_whole_mix_moves_the_output_and_no_send(stage: Stage) -> None:
    before = stage.show.levels["front"]
    request = stage.ask("front", None, -30)

    stage.done(request)

    assert stage.level("front", None) == -30
    assert stage.show.levels["front"].sends == before.sends


def test_call_that_hurts_moves_the_output_down_by_six(stage: Stage) -> None:
    request = stage.call("ears", Call.HURTS, "bass")

    stage.done(request)

    assert stage.level("ears", None) == -160


def test_call_to_talk_moves_nothing(stage: Stage) -> None:
    before = stage.show.levels
    request = stage.call("ears", Call.TALK, "bass")

    decision = stage.done(request)

    assert stage.show.levels == before
    assert stage.show.decisions[decision].move is None


def test_answer_of_the_talk_alone_leaves_the_louder_call_waiting(stage: Stage) -> None:
    talk = stage.call("ears", Call.TALK, "bass")
    hurts = stage.call("ears", Call.HURTS, "drummer")

    stage.done(talk)

    assert list(stage.show.open_requests) == [hurts]
    assert stage.level("ears", None) == -100


def test_second_answer_is_refused_and_names_what_was_answered(stage: Stage) -> None:
    first = stage.ask("front", "voice", 20)
    second = stage.ask("front", "voice", 10)
    stage.done(first)
    before = stage.show

    with pytest.raises(AlreadyAnswered) as refused:
        stage.done(first, second)

    assert refused.value.requests == (first,)
    assert first in refused.value.sentence
    assert stage.show == before


def test_answer_to_what_was_withdrawn_is_refused(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)
    stage.withdraw(request)

    with pytest.raises(AlreadyAnswered):
        stage.done(request)


def test_answer_to_nothing_is_refused(stage: Stage) -> None:
    with pytest.raises(NoRequests):
        stage.do(c.Answer((), Outcome.DONE))


@pytest.mark.parametrize("request_id", ["r999", "", "d1", "front", "\ud800"])
def test_answer_to_what_was_never_asked_is_refused(stage: Stage, request_id: str) -> None:
    with pytest.raises(UnknownRequest):
        stage.do(c.Answer((request_id,), Outcome.DONE))


def test_answer_to_several_rows_is_refused(stage: Stage) -> None:
    voice = stage.ask("front", "voice", 20)
    drums = stage.ask("front", "drums", 20)
    pan = stage.ask_pan("ears", "voice", 20, "bass")
    level = stage.ask("ears", "voice", 20, "bass")

    with pytest.raises(SeveralRows):
        stage.done(voice, drums)
    with pytest.raises(SeveralRows):
        stage.done(voice, level)
    with pytest.raises(SeveralRows):
        stage.done(pan, level)


def test_request_named_twice_is_answered_once(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)

    stage.done(request, request)

    assert stage.level("front", "voice") == -180


def test_not_done_moves_nothing_and_says_why(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)

    decision = stage.not_done(request, why="closer to the mic")

    assert stage.level("front", "voice") == -200
    assert stage.show.decisions[decision].reason == "closer to the mic"
    assert stage.rows == ()


@pytest.mark.parametrize("reason", ["", "  ", "\u202e", "\x00"])
def test_not_done_without_a_reason_is_refused(stage: Stage, reason: str) -> None:
    request = stage.ask("front", "voice", 20)

    with pytest.raises(ReasonRequired):
        stage.not_done(request, why=reason)


def test_reason_of_five_thousand_characters_is_refused(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)

    with pytest.raises(TextTooLong):
        stage.not_done(request, why="x" * 5000)


def test_set_aside_is_not_answered_and_can_be_done_later(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)

    stage.set_aside(request)
    is_open_after = request in stage.show.open_requests
    stage.done(request)

    assert is_open_after
    assert stage.level("front", "voice") == -180


def test_answer_that_leaves_nothing_wanted_cancels_out_the_rest(stage: Stage) -> None:
    up = stage.ask("front", "voice", 30)
    more = stage.ask("front", "voice", 10)
    down = stage.ask("front", "voice", -30)

    answered, gone = stage.do(c.Answer((more,), Outcome.DONE))

    assert isinstance(answered, RequestsAnswered)
    assert gone == RequestsCancelledOut("front", (up, down))
    assert stage.rows == ()


def test_undo_reverses_the_move_and_returns_the_requests_to_waiting(stage: Stage) -> None:
    first = stage.ask("front", "voice", 20)
    second = stage.ask("front", "voice", 10)
    decision = stage.done(first, second)

    stage.undo(decision)

    assert stage.level("front", "voice") == -200
    assert list(stage.show.open_requests) == [first, second]
    assert stage.show.decisions[decision].is_undone


def test_undo_returns_requests_to_their_place_before_later_ones(stage: Stage) -> None:
    first = stage.ask("front", "voice", 20)
    decision = stage.done(first)
    second = stage.ask("front", "voice", 10)

    stage.undo(decision)

    row = stage.row("front", "voice")
    assert row is not None
    assert [request.id for request in row.requests] == [first, second]


def test_second_undo_is_refused(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", 20))
    stage.undo(decision)

    with pytest.raises(AlreadyUndone):
        stage.undo(decision)

    assert stage.level("front", "voice") == -200


@pytest.mark.parametrize("decision", ["d999", "", "r1", "d"])
def test_undo_of_what_was_never_decided_is_refused(stage: Stage, decision: str) -> None:
    with pytest.raises(UnknownDecision):
        stage.undo(decision)


def test_undo_after_a_correction_keeps_the_correction(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", 20))
    stage.correct("front", "voice", -100)

    stage.undo(decision)

    assert stage.level("front", "voice") == -120


def test_undo_that_would_leave_the_range_is_refused(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", -60))
    stage.correct("front", "voice", 80)

    with pytest.raises(UndoOutsideRange):
        stage.undo(decision)

    assert stage.level("front", "voice") == 80


def test_undo_of_not_done_returns_the_request_and_moves_nothing(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)
    decision = stage.not_done(request)

    stage.undo(decision)

    assert list(stage.show.open_requests) == [request]
    assert stage.level("front", "voice") == -200


def test_undo_of_set_aside_brings_the_row_back(stage: Stage) -> None:
    decision = stage.set_aside(stage.ask("front", "voice", 20))

    stage.undo(decision)

    assert [row.is_set_aside for row in stage.rows] == [False]


def test_undo_of_set_aside_leaves_what_was_answered_since(stage: Stage) -> None:
    first, second = stage.ask("front", "voice", 20), stage.ask("front", "voice", 10)
    aside = stage.set_aside(first, second)
    stage.done(first)

    stage.undo(aside)

    assert list(stage.show.open_requests) == [second]
    assert stage.level("front", "voice") == -180


def test_undo_of_an_answer_to_what_was_set_aside_lets_it_wait(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)
    stage.set_aside(request)
    decision = stage.done(request)

    stage.undo(decision)

    assert [row.is_set_aside for row in stage.rows] == [False]


def test_undo_of_in_or_out_restores_what_was(stage: Stage) -> None:
    decision = stage.done(stage.ask_out("front", "voice"))

    stage.undo(decision)

    assert stage.setting("front", "voice") == Setting(-200)


def test_undone_request_can_be_answered_again_and_undone_again(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)
    stage.undo(stage.done(request))

    again = stage.done(request, change=10)
    stage.undo(again)

    assert stage.level("front", "voice") == -200
    assert list(stage.show.open_requests) == [request]


def test_undo_cancels_out_with_what_was_asked_meanwhile(stage: Stage) -> None:
    up = stage.ask("front", "voice", 20)
    decision = stage.done(up)
    down = stage.ask("front", "voice", -20)

    undone, gone = stage.do(c.Undo(decision))

    assert isinstance(undone, DecisionUndone)
    assert isinstance(gone, RequestsCancelledOut)
    assert set(gone.requests) == {up, down}
    assert stage.rows == ()
    assert stage.level("front", "voice") == -200


@pytest.mark.parametrize("is_done", [True, False])
def test_undo_is_refused_once_the_source_is_gone(stage: Stage, *, is_done: bool) -> None:
    request = stage.ask("front", "voice", 20)
    decision = stage.done(request) if is_done else stage.not_done(request)
    stage.do(c.RemoveSource("voice"))

    with pytest.raises(UndoImpossible):
        stage.undo(decision)

    assert stage.rows == ()


def test_undo_is_refused_once_the_mix_is_gone(stage: Stage) -> None:
    decision = stage.done(stage.call("front", Call.HURTS))
    stage.do(c.RemoveMix("front"))

    with pytest.raises(UndoImpossible):
        stage.undo(decision)


def test_undo_of_a_pan_is_refused_once_the_mix_is_mono(stage: Stage) -> None:
    decision = stage.done(stage.ask_pan("ears", "voice", 20, "bass"))
    stage.do(c.PutMix(Mix("ears", "Ears", Output.IN_EAR_PAIR, ("bass", "drummer"), is_fed_mono=True)))

    with pytest.raises(UndoImpossible):
        stage.undo(decision)


def test_undo_reverses_the_move_but_not_the_leaving_of_a_musician(stage: Stage) -> None:
    bass = stage.ask("ears", "voice", 10, "bass")
    drummer = stage.ask("ears", "voice", 10, "drummer")
    decision = stage.done(bass, drummer)
    stage.do(c.RemoveMusician("bass"))

    stage.undo(decision)

    assert stage.level("ears", "voice") == -250
    assert list(stage.show.open_requests) == [drummer]


def test_correction_enters_what_stands_on_the_desk(stage: Stage) -> None:
    stage.correct("ears", "voice", level=-90, pan=-40, is_on=False)

    assert stage.setting("ears", "voice") == Setting(-90, -40, is_on=False)


def test_correction_of_nothing_confirms_the_level(stage: Stage) -> None:
    stage.wait(60)

    stage.correct("front", "voice")

    position = stage.show.position("front", "voice")
    assert position.setting == Setting(-200)
    assert position.confirmed_at_ms == stage.now_ms


def test_correction_leaves_waiting_requests_as_they_are(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)

    stage.correct("front", "voice", -100)

    assert list(stage.show.open_requests) == [request]


def test_correction_outside_the_range_is_refused(stage: Stage) -> None:
    with pytest.raises(OutsideRange):
        stage.correct("front", "voice", 101)
    with pytest.raises(OutsideRange):
        stage.correct("front", None, -901)
    with pytest.raises(PanOutOfRange):
        stage.correct("ears", "voice", pan=101)
    with pytest.raises(NoPanInMono):
        stage.correct("front", "voice", pan=1)


def test_entered_settings_are_start_settings_before_the_mark_and_corrections_after_it(stage: Stage) -> None:
    entered = c.EnterSettings("front", ((None, Setting(-20)), ("voice", Setting(-120))))

    before = stage.do(entered)
    stage.mark()
    after = stage.do(c.EnterSettings("front", (("voice", Setting(-110)), (None, Setting(-20)))))

    assert before == (SendPut("front", None, Setting(-20)), SendPut("front", "voice", Setting(-120)))
    assert after == (LevelCorrected(Move("front", "voice", Setting(-120), Setting(-110))),)


def test_entered_settings_are_taken_all_or_none(stage: Stage) -> None:
    with pytest.raises(OutsideRange):
        stage.do(c.EnterSettings("front", (("voice", Setting(-120)), (None, Setting(101)))))

    assert stage.level("front", "voice") == -200


def test_correction_of_what_is_not_there_is_refused(stage: Stage) -> None:
    with pytest.raises(UnknownMix):
        stage.correct("nosuch", "voice", -100)
    with pytest.raises(SourceNotInMix):
        stage.correct("front", "click", -100)


def test_level_request_kept_by_a_source_turned_off_moves_nothing_by_itself(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)
    stage.correct("front", "voice", is_on=False)

    stage.done(request)

    assert stage.setting("front", "voice") == Setting(-200, is_on=False)


def test_disagreement_answered_without_a_figure_moves_nothing(stage: Stage) -> None:
    up = stage.ask("ears", "voice", 30, "bass")
    down = stage.ask("ears", "voice", -10, "drummer")

    decision = stage.done(up, down)

    assert stage.level("ears", "voice") == -250
    assert stage.show.decisions[decision].asked == 20


def test_answer_stands_as_the_latest_of_its_row_until_undone(stage: Stage) -> None:
    key = RowKey("front", "voice", Kind.LEVEL)
    first = stage.done(stage.ask("front", "voice", 20))
    second = stage.done(stage.ask("front", "voice", 10))
    after_second = stage.show.latest[key]

    stage.undo(second)
    after_undo = stage.show.latest[key]
    stage.undo(first)

    assert (after_second, after_undo) == (second, first)
    assert key not in stage.show.latest
