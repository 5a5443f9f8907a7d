"""What a musician asks for on the phone page, source by source and of the whole mix."""

import pytest

from monreq.domain import commands as c
from monreq.web.wording import SOUND_WORDS
from tests.support.evening import Evening
from tests.support.phone_page import waiting
from tests.support.visitor import Visitor

AMOUNTS = {"touch": 10, "some": 30, "lot": 60}


@pytest.mark.parametrize("amount", AMOUNTS)
@pytest.mark.parametrize(("button", "sign"), [("more Voice", 1), ("less Voice", -1)])
def test_more_and_less_ask_by_the_chosen_amount(
    evening: Evening, singer: Visitor, button: str, sign: int, amount: str
) -> None:
    page = singer.get("/mix/front")

    sent = singer.press(page, button, {"amount": amount})

    assert (sent.status, sent.headers["Location"]) == (303, f"/mix/front?amount={amount}")
    assert evening.asked() == [("front", "voice", "level", sign * AMOUNTS[amount])]


def test_the_chosen_amount_stays_chosen(singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice", {"amount": "lot"})

    assert page.markup.fields(page.button("more Voice").form)["amount"] == ["lot"]


def test_the_amounts_are_those_of_the_show(evening: Evening, singer: Visitor) -> None:
    settings = evening.show.settings
    evening.do(
        c.ChangeSettings(
            type(settings)(touch_tenths=15, some_tenths=settings.some_tenths, lot_tenths=settings.lot_tenths)
        )
    )

    singer.do(singer.get("/mix/front"), "more Voice", {"amount": "touch"})

    assert waiting(evening) == [("voice", "level", 15)]


def test_asked_is_seen_at_once_as_waiting(singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")

    assert "+3, waiting" in page.place("strip-voice")
    assert "waiting" not in page.place("strip-drums")


def test_asked_again_adds_up(evening: Evening, singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")
    page = singer.do(page, "more Voice")

    page = singer.do(page, "less Voice", {"amount": "touch"})

    assert [amount for _, _, amount in waiting(evening)] == [30, 30, -10]
    assert "+5, waiting" in page.place("strip-voice")


def test_asked_and_taken_back_by_the_opposite_leaves_nothing_waiting(
    evening: Evening, singer: Visitor
) -> None:
    page = singer.do(singer.get("/mix/front"), "more Voice")

    page = singer.do(page, "less Voice")

    assert evening.asked() == []
    assert "waiting" not in page.place("strip-voice")


@pytest.mark.parametrize(("button", "amount"), [("Voice further left", -20), ("Voice further right", 20)])
def test_left_and_right_ask_by_one_step(evening: Evening, bassist: Visitor, button: str, amount: int) -> None:
    page = bassist.do(bassist.get("/mix/ears"), button)

    assert evening.asked() == [("ears", "voice", "pan", amount)]
    side = "left" if amount < 0 else "right"
    assert f"20 to the {side}, waiting" in page.place("strip-voice")


def test_take_out_and_put_in(evening: Evening, singer: Visitor) -> None:
    page = singer.do(singer.get("/mix/front"), "take out Drums")

    page = singer.do(page, "put in Guitar")

    assert waiting(evening) == [("drums", "in_out", -1), ("guitar", "in_out", 1)]
    assert "out, waiting" in page.place("strip-drums")
    assert "in, waiting" in page.place("strip-guitar")


def test_a_source_that_is_off_says_so_and_has_neither_more_nor_less(singer: Visitor) -> None:
    page = singer.get("/mix/front")

    assert "off in your mix" in page.place("strip-guitar")
    assert not {"more Guitar", "less Guitar", "take out Guitar"} & set(page.buttons())


@pytest.mark.parametrize(("button", "amount"), [("whole mix louder", 30), ("whole mix softer", -30)])
def test_whole_mix_is_asked_for_as_one(evening: Evening, singer: Visitor, button: str, amount: int) -> None:
    page = singer.do(singer.get("/mix/front"), button)

    assert evening.asked() == [("front", None, "level", amount)]
    assert "waiting" in page.place("whole")


@pytest.mark.parametrize("word", SOUND_WORDS)
def test_sound_is_asked_in_a_word(evening: Evening, singer: Visitor, word: str) -> None:
    page = singer.do(singer.get("/mix/front"), f"Voice sounds {word}")

    (request,) = evening.show.open_requests.values()
    assert (request.key.source, request.key.kind, request.words) == ("voice", "sound", word)
    assert f"{word}: waiting" in page.place("strip-voice")
