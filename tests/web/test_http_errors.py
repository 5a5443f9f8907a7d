"""What a page says where the web framework, not a rule of monreq, turns a request down: our words, in the page's language."""

from dataclasses import dataclass

import pytest

from monreq.web.speech import LANGUAGES
from tests.support.evening import Evening
from tests.support.visitor import Visitor


@dataclass(frozen=True)
class Turned:
    """What is turned down, and how the page is headed that says so."""

    method: str
    path: str
    status: int
    title: str
    data: dict[str, str] | None = None


@pytest.mark.parametrize(
    "turned",
    [
        Turned("GET", "/nowhere", 404, "Not here"),
        Turned("POST", "/reckoning", 405, "Not this way"),
        Turned("POST", "/language", 413, "Too much at once", {"back": "x" * 100_000}),
    ],
    ids=lambda one: str(one.status),
)
def test_a_page_says_what_to_do(stranger: Visitor, turned: Turned) -> None:
    answer = stranger.ask(turned.method, turned.path, data=turned.data)

    assert answer.status_code == turned.status
    assert f"<h1>{turned.title}</h1>" in answer.text


@pytest.mark.parametrize("code", [code for code in LANGUAGES if code != "en"])
def test_it_is_said_in_the_language_of_the_page(stranger: Visitor, code: str) -> None:
    answer = stranger.ask("GET", "/nowhere", headers={"Accept-Language": code})

    assert answer.status_code == 404
    assert "There is no page at this address." not in answer.text


def test_the_json_interface_stays_english(stranger: Visitor) -> None:
    answer = stranger.ask("GET", "/api/v1/nowhere", headers={"Accept-Language": "de"})

    assert answer.get_json()["error"] == "not_found"
    assert answer.get_json()["message"].isascii()


def test_after_a_failure_of_monreq_itself_nobody_is_told_that_nothing_was_changed(evening: Evening) -> None:
    """The program may fail after something was stored, so the page says to look first."""

    @evening.monreq.flask.get("/fails")
    def fails() -> str:
        raise RuntimeError

    evening.monreq.flask.config["PROPAGATE_EXCEPTIONS"] = False
    answer = Visitor(evening.monreq.flask).ask("GET", "/fails")

    assert answer.status_code == 500
    assert "look whether it was done" in answer.text
    assert "Nothing was changed." not in answer.text
