"""What a decision makes of a request: done, in part, not done, set aside."""

import pytest

from monreq.domain.decisions import answered_state
from monreq.domain.requests import CALL_ORDER, Call, Kind, Move, Outcome, RequestState, moved
from monreq.domain.setup import Setting
from tests.support.stage import Stage


def states(stage: Stage, decision: str) -> list[RequestState]:
    decided = stage.show.decisions[decision]
    return [decided.state_of(request) for request in decided.requests]


@pytest.mark.parametrize(
    ("asked", "done", "state"),
    [
        (60, 60, RequestState.DONE),
        (60, 70, RequestState.DONE),
        (60, 40, RequestState.DONE_IN_PART),
        (60, 0, RequestState.DONE_IN_PART),
        (60, -10, RequestState.DONE_IN_PART),
        (-60, -60, RequestState.DONE),
        (-60, -90, RequestState.DONE),
        (-60, -59, RequestState.DONE_IN_PART),
        (-60, 10, RequestState.DONE_IN_PART),
    ],
)
def test_level_is_done_in_part_until_all_that_was_asked_is_done(
    stage: Stage, asked: int, done: int, state: RequestState
) -> None:
    decision = stage.done(stage.ask("front", "voice", asked), change=done)

    assert states(stage, decision) == [state]


def test_suggested_move_that_was_cut_is_done_in_part(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", 60), why="near_feedback")

    decided = stage.show.decisions[decision]
    assert (decided.asked, decided.done, decided.reason) == (60, 30, "near_feedback")
    assert states(stage, decision) == [RequestState.DONE_IN_PART]


def test_whole_row_is_done_in_part_together(stage: Stage) -> None:
    first, second = stage.ask("ears", "voice", 30, "bass"), stage.ask("ears", "voice", 30, "drummer")

    decision = stage.done(first, second, change=40)

    assert states(stage, decision) == [RequestState.DONE_IN_PART, RequestState.DONE_IN_PART]


def test_one_who_asked_back_and_forth_is_done_once_their_sum_is(stage: Stage) -> None:
    requests = [stage.ask("front", "guitar", change) for change in (30, 30, -10)]

    decision = stage.done(*requests, change=50)

    assert states(stage, decision) == [RequestState.DONE] * 3


def test_one_whose_wish_lost_is_not_told_it_was_done(stage: Stage) -> None:
    up, down = stage.ask("ears", "voice", 60, "bass"), stage.ask("ears", "voice", -10, "drummer")

    decision = stage.done(up, down, change=50)

    assert states(stage, decision) == [RequestState.DONE, RequestState.DONE_IN_PART]


def test_disagreement_left_as_it_is_is_done_for_nobody(stage: Stage) -> None:
    up, down = stage.ask("ears", "voice", 30, "bass"), stage.ask("ears", "voice", -30, "drummer")

    decision = stage.done(up, down)

    assert states(stage, decision) == [RequestState.DONE_IN_PART, RequestState.DONE_IN_PART]


def test_in_and_out_are_done_where_the_send_ended(stage: Stage) -> None:
    stage.correct("front", "voice", is_on=False)
    wanted_in = stage.ask_in("front", "voice")
    stage.correct("front", "voice", is_on=True)

    decision = stage.done(wanted_in)

    assert stage.show.decisions[decision].done == 1
    assert states(stage, decision) == [RequestState.DONE]


def test_words_and_calls_are_done_without_a_figure(stage: Stage) -> None:
    words = stage.done(stage.ask_sound("front", "voice", "muddy"))
    call = stage.done(stage.call("front", Call.HURTS), change=-20)

    assert states(stage, words) == [RequestState.DONE]
    assert states(stage, call) == [RequestState.DONE]


def test_not_done_and_set_aside_are_called_so(stage: Stage) -> None:
    request = stage.ask("front", "voice", 30)
    aside = stage.set_aside(request)
    refused = stage.not_done(request)

    assert states(stage, aside) == [RequestState.SET_ASIDE]
    assert states(stage, refused) == [RequestState.NOT_DONE]


@pytest.mark.parametrize("outcome", list(Outcome))
def test_every_outcome_is_a_state(outcome: Outcome) -> None:
    assert answered_state(outcome, 10, 10, 10) == outcome.value


def test_move_is_told_in_the_unit_of_its_kind() -> None:
    move = Move("ears", "voice", Setting(-200, 10), Setting(-185, -20, is_on=False))

    figures = [moved(kind, move) for kind in (Kind.LEVEL, Kind.CALL, Kind.PAN, Kind.IN_OUT)]

    assert figures == [15, 15, -30, -1]
    assert moved(Kind.LEVEL, None) is None


def test_calls_are_worked_in_this_order() -> None:
    assert sorted(CALL_ORDER, key=CALL_ORDER.__getitem__) == [
        Call.HURTS,
        Call.SQUEAL,
        Call.NOTHING,
        Call.TALK,
    ]
