"""Requests that are withdrawn, or cannot be."""

import pytest

from monreq.domain.refusals import AlreadyAnswered, UnknownRequest
from tests.support.stage import Stage


def test_withdrawn_request_leaves_the_queue(stage: Stage) -> None:
    request = stage.ask("front", "voice", 30)

    stage.withdraw(request)

    assert stage.rows == ()
    assert request in stage.show.closed


def test_withdrawing_twice_is_refused_by_name(stage: Stage) -> None:
    request = stage.ask("front", "voice", 30)
    stage.withdraw(request)

    with pytest.raises(AlreadyAnswered) as refused:
        stage.withdraw(request)

    assert refused.value.requests == (request,)


def test_withdrawing_what_was_answered_is_refused(stage: Stage) -> None:
    request = stage.ask("front", "voice", 30)
    stage.done(request)

    with pytest.raises(AlreadyAnswered):
        stage.withdraw(request)


@pytest.mark.parametrize("request_id", ["r999", "", "r", "d1", "r1; drop", "\x00"])
def test_withdrawing_what_was_never_asked_is_refused(stage: Stage, request_id: str) -> None:
    with pytest.raises(UnknownRequest):
        stage.withdraw(request_id)


def test_withdrawing_from_another_mix_finds_nothing(stage: Stage) -> None:
    request = stage.ask("front", "voice", 30)

    with pytest.raises(UnknownRequest):
        stage.withdraw(request, mix="ears")

    assert request in stage.show.open_requests
