"""The phone's question how a change sounds, and what the desk reads of its answer."""

from monreq.domain import commands as c
from monreq.domain.requests import Outcome
from monreq.domain.song_commands import BeginSong
from monreq.web.heard_view import AT_ONCE_MS, BARS_MS, heard_question
from tests.support.evening import Evening
from tests.support.phone_page import answer, one_asked, waiting
from tests.support.visitor import Visitor

MINUS = "\N{MINUS SIGN}"


def test_phone_asks_how_it_is_and_only_once(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))

    page = singer.get("/mix/front")
    assert "Voice +3. How is it now?" in page.place("heard")
    after = singer.do(page, "just right")

    assert "How is it" not in after.text
    assert waiting(evening) == []


def test_still_too_little_asks_again_in_one_tap_and_the_desk_reads_why(
    evening: Evening, singer: Visitor, engineer: Visitor
) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))

    after = singer.do(singer.get("/mix/front"), "still too little")

    assert waiting(evening) == [("voice", "level", 30)]
    assert "+3, waiting" in after.place("strip-voice")
    page = engineer.get("/desk")
    assert "Ada: still too little after +3" in page.place("row-front-voice-level")
    assert "Voice in Front wedge: done +3 Ada: still too little" in page.place("decisions")


def test_nobody_is_asked_while_it_hurts(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))
    page = singer.get("/mix/front")

    hurting = singer.do(page, page.button_with("call-hurts:"))
    (call,) = evening.show.open_requests
    evening.do(c.Withdraw(call, "front"))
    after = singer.get("/mix/front")

    assert hurting.place("heard") == ""
    assert "Voice +3. How is it now?" in after.place("heard")


def test_less_is_asked_about_the_other_way_round(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, -60))
    page = singer.get("/mix/front")
    assert [one for one in page.buttons() if one in ("just right", "still too much", "too little now")] == [
        "just right",
        "still too much",
        "too little now",
    ]

    singer.do(page, "too little now")

    assert waiting(evening) == [("voice", "level", 30)]


def test_right_is_read_at_the_desk(evening: Evening, singer: Visitor, engineer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))
    singer.do(singer.get("/mix/front"), "just right")

    assert "Ada: just right" in engineer.get("/desk").place("decisions")


def test_question_answered_by_another_phone_is_refused_in_words(evening: Evening, singer: Visitor) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))
    page = singer.get("/mix/front")
    singer.do(page, "just right")

    fresh = singer.get("/mix/front")
    fields = fresh.sent_by(fresh.button("more Voice")) | {"do": page.button("just right").value}
    singer.post("/mix/front", fields)

    assert "This was answered, or changed, already." in singer.get("/mix/front").text


def test_question_is_due_some_bars_into_the_song_or_soon_where_nobody_tells_songs(evening: Evening) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))
    done_ms = evening.show.at_ms
    question = heard_question(evening.show, "front")
    assert question is not None
    assert question.due_at_ms == done_ms + AT_ONCE_MS

    evening.do(BeginSong())

    question = heard_question(evening.show, "front")
    assert question is not None
    assert question.due_at_ms == evening.show.at_ms + BARS_MS


def test_closed_show_asks_nothing(evening: Evening) -> None:
    answer(evening, Outcome.DONE, one_asked(evening, 30))
    evening.do(c.CloseShow())

    assert heard_question(evening.show, "front") is None
