"""How the phone page's form is sent: once or twice, refused, too fast, too large."""

import pytest

from monreq.domain import commands as c
from monreq.domain.setup import Setting
from monreq.web.pace import BURST
from tests.support.evening import Evening
from tests.support.phone_page import error_of, waiting
from tests.support.visitor import JSON, Visitor


def test_the_same_form_sent_twice_is_one_request(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")

    answers = [singer.press(page, "more Voice") for _ in range(2)]

    assert [one.status for one in answers] == [303, 303]
    assert waiting(evening) == [("voice", "level", 30)]


def test_another_button_or_amount_of_the_same_page_is_another_request(
    evening: Evening, singer: Visitor
) -> None:
    page = singer.get("/mix/front")

    singer.press(page, "more Voice")
    singer.press(page, "more Drums")
    singer.press(page, "more Voice", {"amount": "lot"})

    assert waiting(evening) == [("voice", "level", 30), ("drums", "level", 30), ("voice", "level", 60)]


def test_the_page_loaded_again_asks_again(evening: Evening, singer: Visitor) -> None:
    for _ in range(2):
        singer.do(singer.get("/mix/front"), "more Voice")

    assert waiting(evening) == [("voice", "level", 30)] * 2


def test_a_script_is_told_that_it_was_taken_once_or_twice(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")

    answers = [singer.press(page, "more Voice", None, **JSON) for _ in range(2)]

    assert [(one.status, one.response.json) for one in answers] == [(201, {"state": "taken"})] * 2
    assert waiting(evening) == [("voice", "level", 30)]


UNKNOWN_BUTTONS = [
    "",
    "more",
    "explode:voice",
    "more-more:voice",
    "call-pizza:",
    "sound-wonderful:voice",
    "sound:voice",
    "MORE:voice",
    "more:voice\n",
    "more:../../desk",
    "more:" + "v" * 13,
]


@pytest.mark.parametrize("button", UNKNOWN_BUTTONS)
def test_an_unknown_button_is_refused(evening: Evening, singer: Visitor, button: str) -> None:
    page = singer.get("/mix/front")
    fields = {**page.sent_by(page.button("more Voice")), "do": button}

    told, seen = singer.post("/mix/front", fields, **JSON), singer.post("/mix/front", fields)

    assert (told.status, error_of(told)) == (422, "page_out_of_date")
    assert told.response.json["message"] == "This page is out of date. Load it again."  # type: ignore[index]
    assert (seen.status, singer.get(seen.headers["Location"]).notes) == (303, [told.response.json["message"]])  # type: ignore[index]
    assert evening.asked() == []


@pytest.mark.parametrize("amount", ["huge", "some\n", "SOME", "-6"])
def test_an_unknown_amount_is_refused(evening: Evening, singer: Visitor, amount: str) -> None:
    page = singer.get("/mix/front")
    fields = {**page.sent_by(page.button("more Voice")), "amount": amount}

    told = singer.post("/mix/front", fields, **JSON)

    assert (told.status, error_of(told)) == (422, "page_out_of_date")
    assert evening.asked() == []


@pytest.mark.parametrize(
    ("button", "code"),
    [
        ("more:nothere", "source_not_in_mix"),
        ("more:harp", "source_not_in_mix"),
        ("more:guitar", "source_off"),
        ("in:voice", "source_already_on"),
        ("less:talk", "talkback_not_less"),
        ("out:talk", "talkback_not_less"),
        ("left:voice", "no_pan_in_mono"),
        ("out:", "source_required"),
    ],
)
def test_what_makes_no_sense_is_refused_with_a_code_and_a_sentence(
    evening: Evening, singer: Visitor, button: str, code: str
) -> None:
    page = singer.get("/mix/front")

    told = singer.post("/mix/front", {**page.sent_by(page.button("more Voice")), "do": button}, **JSON)

    assert (told.status, error_of(told)) == (422, code)
    assert str(told.response.json["message"]).endswith((".", "!"))  # type: ignore[index]
    assert evening.asked() == []


def test_what_was_refused_is_told_once_on_the_next_page(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    evening.do(c.PutSend("front", "voice", Setting(-40, is_on=False)))

    told = singer.do(page, "more Voice")

    assert told.notes == ["This source is off in this mix: ask for it to be put in first."]
    assert singer.get("/mix/front").notes == []
    assert evening.asked() == []


def test_a_closed_show_takes_nothing_and_says_so(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    evening.do(c.CloseShow())

    seen, told = singer.do(page, "more Voice"), singer.press(page, "more Voice", None, **JSON)

    assert "this show is closed" in seen.place("head")
    assert seen.notes == ["This show is closed."]
    assert (told.status, error_of(told)) == (410, "show_closed")
    assert evening.asked() == []


@pytest.mark.security
def test_a_flood_is_slowed_and_told_when_to_try_again(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    fields = page.sent_by(page.button("more Voice"))

    answers = [
        singer.post("/mix/front", {**fields, "client_id": f"flood{number}", "do": "withdraw:r1"}, **JSON)
        for number in range(BURST * 3)
    ]

    slowed = [one for one in answers if one.status == 429]
    assert {one.status for one in answers[:BURST]} == {404}
    assert slowed
    assert {error_of(one) for one in slowed} == {"too_fast"}
    assert {one.headers["Retry-After"] for one in slowed} == {"1"}
    assert evening.asked() == []


@pytest.mark.security
def test_one_mix_that_floods_slows_no_other(singer: Visitor, bassist: Visitor) -> None:
    page = singer.get("/mix/front")
    for number in range(BURST * 2):
        singer.press(page, "more Voice", {"client_id": f"flood{number}"})

    told = bassist.press(bassist.get("/mix/ears"), "more Voice", None, **JSON)

    assert told.status == 201


@pytest.mark.security
def test_fifty_waiting_are_the_most(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    for _ in range(50):
        evening.ask("front", "voice", 10)

    told = singer.press(page, "more Voice", None, **JSON)

    assert (told.status, error_of(told)) == (429, "too_many_waiting")
    assert "Retry-After" not in told.headers
    assert len(evening.asked()) == 50


@pytest.mark.security
@pytest.mark.parametrize("kind", ["application/x-www-form-urlencoded", "multipart/form-data; boundary=x"])
def test_an_oversized_body_is_refused(evening: Evening, singer: Visitor, kind: str) -> None:
    answered = singer.client.post("/mix/front", data=b"do=" + b"x" * 100_000, content_type=kind)

    assert answered.status_code == 413
    assert "Content-Security-Policy" in answered.headers
    assert evening.asked() == []
