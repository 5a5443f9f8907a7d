"""Answers that are refused: given already, to nothing, to several rows, without a reason."""

import pytest

from monreq.domain import commands as c
from monreq.domain.refusals import (
    AlreadyAnswered,
    NoRequests,
    ReasonRequired,
    SeveralRows,
    TextTooLong,
    UnknownRequest,
)
from monreq.domain.requests import Outcome
from monreq.domain.telling_refusals import AnsweredByDesk
from tests.support.stage import Stage


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


@pytest.mark.parametrize("reason", ["", "  ", "\u202e", "\x00"])
def test_not_done_without_a_reason_is_refused(stage: Stage, reason: str) -> None:
    request = stage.ask("front", "voice", 20)

    with pytest.raises(ReasonRequired):
        stage.not_done(request, why=reason)


def test_reason_of_five_thousand_characters_is_refused(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)

    with pytest.raises(TextTooLong):
        stage.not_done(request, why="x" * 5000)


def test_late_answer_is_told_the_desk_whose_answer_stands_and_not_one_that_was_undone(stage: Stage) -> None:
    request = stage.ask("front", "voice", 20)
    stage.do(c.Answer((request,), Outcome.DONE, desk="Stage side"))
    stage.undo(list(stage.show.decisions)[-1])
    stage.do(c.Answer((request,), Outcome.DONE, desk="House"))

    with pytest.raises(AnsweredByDesk) as refused:
        stage.done(request)

    assert "answered by House." in refused.value.sentence
