"""What the phone page tells of the desk's answers, and of others in a shared mix."""

import pytest

from monreq.domain import commands as c
from monreq.domain.requests import Outcome
from tests.support.evening import Evening
from tests.support.phone_page import answer, one_asked
from tests.support.visitor import Visitor


def test_done_as_asked_is_told(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))

    strip = singer.get("/mix/front").place("strip-voice")

    assert "done +3" in strip
    assert "asked" not in strip


def test_done_in_part_says_asked_done_and_why(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening), done=40, reason="near_feedback")

    assert "asked +6, done +4: near feedback" in singer.get("/mix/front").place("strip-voice")


@pytest.mark.parametrize(
    ("reason", "words"),
    [
        ("closer_to_mic", "get closer to the mic"),
        ("After the ballad, promised", "After the ballad, promised"),
    ],
)
def test_not_done_says_why(evening: Evening, singer: Visitor, reason: str, words: str) -> None:
    answer(evening, Outcome.NOT_DONE, one_asked(evening), reason=reason)

    assert f"not done: {words}" in singer.get("/mix/front").place("strip-voice")


def test_set_aside_is_told_and_can_still_be_taken_back(evening: Evening, singer: Visitor) -> None:
    request = one_asked(evening)
    answer(evening, Outcome.SET_ASIDE, request)

    page = singer.get("/mix/front")
    after = singer.do(page, page.button_with(f"withdraw:{request}"))

    assert "+6, set aside by the desk" in page.place("strip-voice")
    assert after.place("strip-voice") == after.place("strip-voice").replace("done", "")
    assert evening.asked() == []


def test_undone_waits_again(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))
    (decision,) = evening.show.decisions
    evening.do(c.Undo(decision))

    strip = singer.get("/mix/front").place("strip-voice")

    assert "+3, waiting" in strip
    assert "done" not in strip


def test_a_call_that_was_answered_is_told(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    singer.do(page, page.button_with("call-hurts:"))
    answer(evening, Outcome.DONE, *evening.show.open_requests)

    assert "done" in singer.get("/mix/front").place("calls")
    assert "Desk called" not in singer.get("/mix/front").place("calls")


def test_whole_mix_answer_is_told(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30, None))

    assert "done +3" in singer.get("/mix/front").place("whole")


def test_taken_off_the_list_is_told_as_gone(evening: Evening, singer: Visitor) -> None:
    one_asked(evening)
    evening.do(c.RemoveSend("front", "voice"))

    page = singer.get("/mix/front")

    assert not page.has_place("strip-voice")
    assert evening.asked() == []


def test_musicians_of_a_shared_mix_see_that_they_disagree(
    evening: Evening, bassist: Visitor, drummer: Visitor
) -> None:
    bassist.do(bassist.get("/mix/ears"), "more Drums")

    page = drummer.do(drummer.get("/mix/ears"), "less Drums")

    for seen in (page, bassist.get("/mix/ears")):
        strip = seen.place("strip-drums")
        assert "the desk will choose (Bo asks +3, Cy asks \N{MINUS SIGN}3)" in strip
    assert len(evening.asked()) == 2


def test_what_the_desk_chose_between_two_is_told_to_both_with_what_each_asked(
    evening: Evening, bassist: Visitor, drummer: Visitor
) -> None:
    requests = [evening.ask("ears", "drums", 30, "bass"), evening.ask("ears", "drums", -10, "drummer")]
    answer(evening, Outcome.DONE, *requests, done=10)

    for seen in (bassist, drummer):
        told = seen.get("/mix/ears").place("strip-drums")
        assert "done +1 (Bo asked +3, Cy asked \N{MINUS SIGN}1)" in told


def test_a_shared_mix_says_whose_request_would_be_taken_back(bassist: Visitor, drummer: Visitor) -> None:
    bassist.do(bassist.get("/mix/ears"), "more Drums")

    page = drummer.do(drummer.get("/mix/ears"), "more Drums", {"amount": "touch"})

    assert {"take back Bo +3, Drums", "take back Drums Cy +1"} <= set(page.buttons())
