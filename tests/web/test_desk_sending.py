"""How the desk's form is sent: late, twice, from two desks, with a button that is none."""

import json

import pytest

from monreq.domain import commands as c
from monreq.domain.requests import Outcome, RequestState
from tests.support.desk_page import VOICE, press, states
from tests.support.evening import Evening
from tests.support.visitor import JSON, MINUS, Visitor


def test_a_decision_answers_exactly_what_was_shown(evening: Evening, engineer: Visitor) -> None:
    shown = evening.ask("front", "voice", 10)
    page = engineer.get("/desk")
    unseen = evening.ask("front", "voice", 20)

    after = press(engineer, page, f"done:{VOICE}")

    assert states(evening, shown, unseen) == [RequestState.DONE, RequestState.WAITING]
    assert evening.level("front", "voice") == -30
    assert f"{MINUS}3 to {MINUS}1" in after.place(VOICE)


def test_a_request_withdrawn_meanwhile_is_not_done(evening: Evening, engineer: Visitor) -> None:
    gone = evening.ask("front", "voice", 10)
    kept = evening.ask("front", "voice", 20)
    page = engineer.get("/desk")
    evening.do(c.Withdraw(gone))

    after = press(engineer, page, f"done:{VOICE}")

    assert after.notes == ["No longer waiting: Front wedge, Voice. Nothing was changed."]
    assert states(evening, kept) == [RequestState.WAITING]
    assert evening.level("front", "voice") == -40


def test_of_two_desks_one_wins_and_the_other_is_told(
    evening: Evening, engineer: Visitor, stranger: Visitor
) -> None:
    stranger.scan(evening.link())
    evening.ask("front", "voice", 30)
    pages = [one.get("/desk") for one in (engineer, stranger)]

    first = press(engineer, pages[0], f"done:{VOICE}")
    second = press(stranger, pages[1], f"figure:{VOICE}", figure="+2")
    told = stranger.press(pages[1], pages[1].button_with(f"set_aside:{VOICE}"), None, **JSON)

    assert first.notes == []
    assert second.notes == ["No longer waiting: Front wedge, Voice. Nothing was changed."]
    assert (told.status, json.loads(told.response.data)["error"]) == (409, "already_answered")
    assert evening.level("front", "voice") == -10
    assert len(evening.show.decisions) == 1


def test_the_same_answer_sent_twice_is_one(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    page = engineer.get("/desk")
    button = page.button_with(f"done:{VOICE}")

    answers = [engineer.press(page, button, None, **JSON) for _ in range(2)]

    assert [one.status for one in answers] == [201, 201]
    assert evening.level("front", "voice") == -10
    assert len(evening.show.decisions) == 1


def test_an_answer_sent_again_to_take_it_back_takes_back_exactly_that_one(
    evening: Evening, engineer: Visitor
) -> None:
    request, later = evening.ask("front", "voice", 30), evening.ask("front", "drums", 30)
    page = engineer.get("/desk")
    fields = page.sent_by(page.button_with(f"done:{VOICE}"))
    engineer.post("/desk", fields, **JSON)
    evening.do(c.Answer((later,), Outcome.DONE))

    told = [engineer.post("/desk", {**fields, "takes_back": "yes"}, **JSON) for _ in range(2)]

    assert [one.status for one in told] == [201, 201]
    assert states(evening, request, later) == [RequestState.WAITING, RequestState.DONE]
    assert evening.level("front", "voice") == -40


def test_an_answer_that_is_taken_back_before_it_arrives_counts_no_more_when_it_does(
    evening: Evening, engineer: Visitor
) -> None:
    request, earlier = evening.ask("front", "voice", 30), evening.ask("front", "drums", 30)
    evening.do(c.Answer((earlier,), Outcome.DONE))
    page = engineer.get("/desk")
    fields = page.sent_by(page.button_with(f"done:{VOICE}"))

    told = [engineer.post("/desk", {**fields, **one}, **JSON) for one in ({"takes_back": "yes"}, {})]

    assert [one.status for one in told] == [201, 201]
    assert states(evening, request, earlier) == [RequestState.WAITING, RequestState.DONE]
    assert evening.level("front", "voice") == -40


def test_what_answers_no_request_is_not_taken_back_as_if_it_did(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk")
    fields = {**page.sent_by(page.button_with("note_own:")), "note-words": "Two minutes"}
    engineer.post("/desk", fields, **JSON)
    before = evening.show

    told = engineer.post("/desk", {**fields, "takes_back": "yes"}, **JSON)

    assert (told.status, json.loads(told.response.data)["error"]) == (404, "unknown_decision")
    assert evening.show == before


def test_requests_of_two_rows_are_never_answered_together(evening: Evening, engineer: Visitor) -> None:
    mine, other = evening.ask("front", "voice", 30), evening.ask("front", "drums", 30)
    page = engineer.get("/desk")
    fields = page.sent_by(page.button_with(f"done:{VOICE}"))

    told = engineer.post("/desk", {**fields, f"{VOICE}-requests": f"{mine} {other}"}, **JSON)

    assert told.status == 422
    assert states(evening, mine, other) == [RequestState.WAITING] * 2


@pytest.mark.parametrize(
    "button",
    ["", "done", "explode:x", "done:", "done:row-front-harp-level", "undo:d1", "not_done:" + "x" * 99],
)
def test_an_unknown_button_is_refused(evening: Evening, engineer: Visitor, button: str) -> None:
    evening.ask("front", "voice", 30)
    before = evening.show
    page = engineer.get("/desk")
    fields = {**page.sent_by(page.button_with(f"done:{VOICE}")), "do": button}

    told, seen = engineer.post("/desk", fields, **JSON), engineer.post("/desk", fields)

    assert told.status in (404, 422)
    assert seen.status == 303
    assert engineer.get("/desk").notes == [json.loads(told.response.data)["message"]]
    assert evening.show == before


def test_desk_of_a_closed_show_takes_nothing(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    page = engineer.get("/desk")
    evening.do(c.CloseShow())

    after = press(engineer, page, f"done:{VOICE}")

    assert after.notes == ["This show is closed."]
    assert "closed" in after.place("status")
    assert evening.level("front", "voice") == -40
