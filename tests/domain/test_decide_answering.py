"""What the desk answers, and what each answer moves."""

import pytest

from monreq.domain import commands as c
from monreq.domain.events import RequestsAnswered, RequestsCancelledOut
from monreq.domain.refusals import NoFigureHere, OutsideRange, PanOutOfRange
from monreq.domain.requests import Call, Kind, Outcome, RowKey
from monreq.domain.setup import Setting
from tests.support.stage import Stage


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
