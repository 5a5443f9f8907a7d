"""The judges of pages, on made-up pages: a call that is hidden, a phone that shows too much, an answer gone astray."""

import pytest

from monreq.domain import events as e
from monreq.domain.requests import Kind, Outcome
from tests.evenings.browser import Done
from tests.evenings.forms import read
from tests.evenings.found import Found
from tests.evenings.judges import calls, meant, privacy
from tests.support.stage import small_stage

CALL_ROW = (
    '<ol><li class="row urgent"><input type="hidden" name="row-front--call-requests" value="r7 r9"></li></ol>'
)


def test_a_call_in_an_urgent_row_is_seen() -> None:
    calls.check("desk.show_queue", read(CALL_ROW, "/desk"), ["r7", "r9"])


def test_a_call_that_is_nowhere_or_in_no_urgent_place_is_found() -> None:
    for page in ("<ol></ol>", CALL_ROW.replace("urgent", "later")):
        with pytest.raises(Found, match="does not show the open calls"):
            calls.check("desk.show_queue", read(page, "/desk"), ["r7"])


def test_pages_with_a_known_gap_are_let_by_and_none_is_on_both_lists() -> None:
    calls.check("prepare.show_setup", read("<ol></ol>", "/desk/prepare"), ["r7"])

    assert not set(calls.GAPS).intersection(calls.SHOWN_ON)


def test_a_phone_that_shows_another_mix_is_found() -> None:
    show = small_stage().show
    privacy.check(show, "front", "<h1>Front wedge</h1>")

    for text in ("<b>Rhythm in-ears</b>", '<a href="/mix/ears">', '<li id="row-ears-voice-level">'):
        with pytest.raises(Found, match="a phone of front shows"):
            privacy.check(show, "front", text)


def answered(mix: str, source: str, requests: tuple[str, ...]) -> list[e.Recorded]:
    event = e.RequestsAnswered("d9", mix, source, Kind.LEVEL, requests, Outcome.NOT_DONE, 30, None, "no")
    return [e.Recorded(9, 0, "desk", event)]


def pressed(show_id: str, log: list[e.Recorded], status: int = 303) -> Done:
    sent = {"row-front-voice-level-requests": ["r7 r8"]}
    target = "row-front-voice-level"
    return Done("desk", "here", None, "", "desk.answer", "not_done", target, sent, status, {show_id: log})


def test_an_answer_to_what_the_page_showed_is_meant() -> None:
    meant.check(pressed("here", answered("front", "voice", ("r7",))))


@pytest.mark.parametrize(
    ("done", "why"),
    [
        (pressed("there", answered("front", "voice", ("r7",))), "in there"),
        (pressed("here", answered("ears", "voice", ("r7",))), "recorded for ears"),
        (pressed("here", answered("front", "voice", ("r9",))), "recorded for front"),
        (pressed("here", answered("front", "voice", ("r7",)), 422), "was refused"),
    ],
)
def test_an_answer_to_anything_else_is_found(done: Done, why: str) -> None:
    with pytest.raises(Found, match=why):
        meant.check(done)
