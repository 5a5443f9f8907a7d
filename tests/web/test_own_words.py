"""What sounds wrong, typed on a phone: asked of the whole mix, answered in words."""

from monreq.domain.requests import Kind
from monreq.domain.texts import WORDS_LIMIT
from tests.support.evening import Evening
from tests.support.visitor import JSON, Page, Visitor

WRITING = "/mix/front?write=1"
LINK = "Say what sounds wrong in your own words"


def said(evening: Evening) -> list[tuple[str | None, Kind, str]]:
    return [(one.key.source, one.key.kind, one.words) for one in evening.show.open_requests.values()]


def tell(singer: Visitor, words: str) -> Page:
    page = singer.get(WRITING)
    return singer.do(page, page.button("tell the desk"), {"words": words})


def test_words_reach_the_desk_as_they_were_typed(
    evening: Evening, singer: Visitor, engineer: Visitor
) -> None:
    page = tell(singer, "rings at the high <b> note")

    assert said(evening) == [(None, Kind.SOUND, "rings at the high <b> note")]
    assert page.place("whole").startswith("Whole mix: rings at the high <b> note: waiting")
    assert "rings at the high <b> note" in engineer.get("/desk").place("row-front--sound")


def test_the_same_page_sent_twice_says_it_once(evening: Evening, singer: Visitor) -> None:
    page = singer.get(WRITING)

    for _ in range(2):
        singer.do(page, page.button("tell the desk"), {"words": "boxy"})

    assert said(evening) == [(None, Kind.SOUND, "boxy")]


def test_no_words_are_refused(evening: Evening, singer: Visitor) -> None:
    page = tell(singer, "  ")

    assert page.notes == ["Say in words what is wrong with the sound."]
    assert said(evening) == []


def test_too_many_words_are_refused(evening: Evening, singer: Visitor) -> None:
    page = tell(singer, "w" * (WORDS_LIMIT + 1))

    assert page.notes == ["That text is too long."]
    assert said(evening) == []


def test_only_who_writes_has_a_page_that_does_not_load_itself_again(singer: Visitor) -> None:
    reading, writing = singer.get("/mix/front"), singer.get(WRITING)

    assert [page.source.count('http-equiv="refresh"') for page in (reading, writing)] == [1, 0]
    assert LINK in reading.text
    assert LINK not in writing.text


def test_words_left_in_the_field_are_no_part_of_another_request(evening: Evening, singer: Visitor) -> None:
    page = singer.get(WRITING)

    singer.do(page, page.button("more Voice"), {"words": "boxy"})

    assert said(evening) == [("voice", Kind.LEVEL, "")]


def test_a_script_is_told_that_words_were_taken(evening: Evening, singer: Visitor) -> None:
    page = singer.get(WRITING)

    answer = singer.press(page, "tell the desk", {"words": "boxy"}, **JSON)

    assert (answer.status, answer.response.json) == (201, {"state": "taken"})
    assert said(evening) == [(None, Kind.SOUND, "boxy")]
