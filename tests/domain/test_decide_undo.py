"""What the desk takes back, and what can no longer be taken back."""

import pytest

from monreq.domain import commands as c
from monreq.domain.events import DecisionUndone, RequestsCancelledOut
from monreq.domain.refusals import AlreadyUndone, UndoImpossible, UndoOutsideRange, UnknownDecision
from monreq.domain.requests import Call
from monreq.domain.setup import Mix, Output, Setting
from tests.support.stage import Stage


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
