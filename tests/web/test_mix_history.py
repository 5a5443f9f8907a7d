"""One mix at the desk: its history, and how two of its moments differ."""

import json

import pytest

from monreq.domain import commands as c
from monreq.domain.requests import Outcome
from monreq.web import wording
from tests.support.evening import Evening
from tests.support.visitor import MINUS, Page, Visitor

PAGE = "/desk/mix/front"


def test_history_tells_what_was_asked_done_and_undone(evening: Evening, engineer: Visitor) -> None:
    request = evening.ask("front", "voice", 60)
    evening.do(c.Answer((request,), Outcome.DONE, 40, reason="near_feedback"))
    (decision,) = evening.show.decisions
    evening.do(c.Undo(decision))

    history = engineer.get(PAGE).markup.root.one("ol").every("li")

    lines = [one.text.partition(" ")[2] for one in history][:3]
    assert lines == [
        f"Voice undone 0 to {MINUS}4 desk",
        f"Voice done {MINUS}4 to 0; near feedback desk",
        "Voice asked +6 Ada",
    ]


def test_history_is_there_for_the_rest_of_the_show_once_somebody_said_how_a_change_sounds(
    evening: Evening, singer: Visitor, engineer: Visitor
) -> None:
    evening.do(c.Answer((evening.ask("front", "voice", 30),), Outcome.DONE))
    singer.do(singer.get("/mix/front"), "just right")

    page = engineer.get(PAGE)

    assert page.status == 200
    assert "Voice heard just right Ada" in page.markup.root.one("ol").text


def test_history_of_one_mix_shows_nothing_of_another(evening: Evening, engineer: Visitor) -> None:
    evening.ask("side", "harp", 37)

    history = engineer.get(PAGE).markup.root.one("ol").text

    assert "3.7" not in history
    assert "Glass harp" not in history.replace("Glass harp taken off the list", "").replace(
        "Glass harp entered", ""
    )


def test_difference_of_two_moments(evening: Evening, engineer: Visitor) -> None:
    """Worked by hand: voice -4 to -1 to -3, drums out, the whole mix -6 to -8; between the first two, voice alone."""
    then = evening.show.revision
    evening.do(c.CorrectLevel("front", "voice", -10))
    middle = evening.show.revision
    evening.do(c.CorrectLevel("front", "voice", -30))
    evening.do(c.CorrectLevel("front", "drums", is_on=False))
    evening.do(c.CorrectLevel("front", None, -80))

    def lines(**query: int) -> list[str]:
        page = Page(engineer.client.get(PAGE, query_string=query))
        (found,) = (one for one in page.markup.root.every("ul") if one.attrs.get("class") == "difference")
        return [one.text for one in found.every("li")]

    assert sorted(lines(then=then)) == [
        "Drums: taken out",
        f"Voice: {MINUS}4 to {MINUS}3",
        f"Whole mix: {MINUS}6 to {MINUS}8",
    ]
    assert lines(then=then, now=middle) == [f"Voice: {MINUS}4 to {MINUS}1"]
    assert lines(then=middle, now=then) == [f"Voice: {MINUS}1 to {MINUS}4"]
    assert lines(then=evening.show.revision) == ["No difference."]


@pytest.mark.parametrize("then", ["0", "-1", "99999", "9" * 30])
def test_a_moment_that_never_was_is_refused(engineer: Visitor, then: str) -> None:
    page = engineer.get(f"{PAGE}?then={then}")

    assert page.status == 404
    assert "The show has not come that far." in page.text


@pytest.mark.parametrize("then", ["", "x", "1.5"])
def test_without_a_moment_no_difference_is_claimed(engineer: Visitor, then: str) -> None:
    page = engineer.get(f"{PAGE}?then={then}")

    assert page.status == 200
    assert "No difference" not in page.text


def test_difference_since_before_the_mix_says_what_is_new(engineer: Visitor) -> None:
    page = engineer.get(f"{PAGE}?then=1")

    assert f"Voice: new, {MINUS}4" in page.text


def test_an_unknown_mix_is_not_there(engineer: Visitor) -> None:
    page = engineer.get("/desk/mix/nothere")

    assert (page.status, "There is no such mix in this show." in page.text) == (404, True)
    assert json.loads(engineer.get("/desk/mix/nothere", Accept="application/json").response.data) == {
        "error": "unknown_mix",
        "message": "There is no such mix in this show.",
    }


def test_a_mix_is_shown_as_it_stood_after_any_entry(evening: Evening, engineer: Visitor) -> None:
    before = evening.show.revision
    stood = evening.level("front", "voice")
    evening.do(c.CorrectLevel("front", "voice", stood - 40))

    then = engineer.get(f"/desk/mix/front/at/{before}").text
    now = engineer.get(f"/desk/mix/front/at/{evening.show.revision}").text

    assert f"Voice {wording.level(stood)} " in f"{then} "
    assert f"Voice {wording.level(stood - 40)} " in f"{now} "


def test_a_moment_that_has_not_come_is_not_there(evening: Evening, engineer: Visitor) -> None:
    answer = engineer.get(f"/desk/mix/front/at/{evening.show.revision + 1}")

    assert answer.response.status_code == 404
    assert "has not come that far" in answer.text
