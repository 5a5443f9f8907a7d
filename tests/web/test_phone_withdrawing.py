"""Requests that are taken back on the phone page."""

import pytest

from monreq.domain.requests import Outcome
from monreq.web.phone_view import phone_places
from tests.support.evening import Evening
from tests.support.phone_page import answer, error_of, waiting
from tests.support.visitor import JSON, Visitor


def test_withdraw_takes_the_request_back(evening: Evening, singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")
    (request,) = evening.show.open_requests

    page = singer.do(page, page.button_with(f"withdraw:{request}"))

    assert evening.asked() == []
    assert "waiting" not in page.place("strip-voice")


def test_each_of_several_requests_can_be_taken_back(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    for amount in ("lot", "some", "touch"):
        page = singer.do(page, "more Voice", {"amount": amount})

    names = [name for name in page.buttons() if name.startswith("take back")]
    singer.do(page, "take back +3, Voice")

    assert sorted(names) == ["take back +3, Voice", "take back +6, Voice", "take back Voice +1"]
    assert [amount for _, _, amount in waiting(evening)] == [60, 10]


def test_the_newest_request_is_the_first_to_be_taken_back(evening: Evening) -> None:
    requests = [evening.ask("front", "voice", tenths) for tenths in (60, 30, 10)]

    strip = phone_places(evening.show, "front")["strip-voice"].view

    assert [one.request for one in strip.take_back] == requests[::-1]
    assert [one.text for one in strip.take_back] == ["+1", "+3", "+6"]


@pytest.mark.security
def test_withdraw_reaches_no_other_mix(evening: Evening, singer: Visitor) -> None:
    theirs = evening.ask("side", "harp", 30)
    page = singer.get("/mix/front")
    fields = page.sent_by(page.button("more Voice"))

    sent = singer.post("/mix/front", {**fields, "do": f"withdraw:{theirs}"}, **JSON)

    assert (sent.status, error_of(sent)) == (404, "unknown_request")
    assert evening.asked() == [("side", "harp", "level", 30)]


def test_withdrawing_what_was_answered_meanwhile_is_told(evening: Evening, singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")
    (request,) = evening.show.open_requests
    answer(evening, Outcome.DONE, request)

    told = singer.do(page, page.button_with(f"withdraw:{request}"))

    assert told.notes == ["No longer waiting: Voice. Nothing was changed."]
    assert evening.level("front", "voice") == -10
