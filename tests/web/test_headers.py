"""What every answer carries, and what every page loads."""

import json
import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pytest
from werkzeug.test import TestResponse

from monreq.web.assets import STATIC
from tests.support.evening import Evening
from tests.support.routes import addresses
from tests.support.visitor import Visitor

pytestmark = pytest.mark.security

ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
}


def answers(evening: Evening, visitor: Visitor) -> Iterator[tuple[str, TestResponse]]:
    """Give an answer of every route and method, and of what can go wrong before any route."""
    for method, address in addresses(evening, "GET", "POST", "DELETE"):
        yield f"{method} {address}", visitor.ask(method, address)
    yield "404", visitor.ask("GET", "/nowhere")
    yield "405", visitor.ask("PUT", "/desk")
    yield "413", visitor.ask("POST", "/mix/front", data={"do": "x" * 100_000})
    yield "421", visitor.ask("GET", "/desk", headers={"Host": "evil.example"})
    yield "403", visitor.ask("POST", "/desk", headers={"Origin": "http://evil.example"})
    for file in sorted(STATIC.rglob("*")):
        if file.is_file():
            path = f"/static/{file.relative_to(STATIC).as_posix()}"
            yield f"GET {path}", visitor.ask("GET", path)
    yield "no file", visitor.ask("GET", "/static/nothing.js")


def policy(response: TestResponse) -> dict[str, list[str]]:
    parts = [part.split() for part in response.headers["Content-Security-Policy"].split(";")]
    return {part[0]: part[1:] for part in parts}


def test_every_answer_carries_the_headers(evening: Evening, engineer: Visitor) -> None:
    seen = dict(answers(evening, engineer))

    lacking = {
        way: missing
        for way, answer in seen.items()
        if (missing := ALWAYS.items() - dict(answer.headers).items())
    }
    assert len(seen) > 45
    assert lacking == {}
    assert [way for way, answer in seen.items() if "Content-Security-Policy" not in answer.headers] == []


def test_no_policy_lets_anything_unsafe_or_foreign_in(evening: Evening, engineer: Visitor) -> None:
    policies = [policy(answer) for _, answer in answers(evening, engineer)]

    sources = {word for one in policies for words in one.values() for word in words}
    assert not [word for word in sources if "unsafe" in word or "*" in word or word.startswith("http")]
    assert {tuple(one["default-src"]) for one in policies} == {("'none'",)}
    assert {tuple(one["frame-ancestors"]) for one in policies} == {("'none'",)}
    assert {tuple(one["base-uri"]) for one in policies} == {("'none'",)}
    assert {tuple(one.get("script-src", ())) for one in policies} == {("'self'",), ()}


def test_no_answer_allows_another_site(evening: Evening, engineer: Visitor) -> None:
    allowed = [
        way
        for way, answer in answers(evening, engineer)
        if any(name.lower().startswith("access-control-") for name in answer.headers.keys())  # noqa: SIM118 - headers
    ]

    assert allowed == []


def test_only_our_own_files_are_kept_by_browsers(evening: Evening, engineer: Visitor) -> None:
    kept = {
        way for way, answer in answers(evening, engineer) if answer.headers.get("Cache-Control") != "no-store"
    }

    assert kept
    assert not [way for way in kept if not way.startswith("GET /static/")]


def test_a_wrong_method_is_told_which_are_right(engineer: Visitor) -> None:
    answer = engineer.ask("PUT", "/desk")

    assert answer.status_code == 405
    assert {"GET", "POST"} <= set(answer.headers["Allow"].split(", "))


@pytest.mark.parametrize("status", [404, 405, 413])
def test_what_goes_wrong_is_told_on_a_page_and_to_scripts(engineer: Visitor, status: int) -> None:
    def ask(**headers: str) -> TestResponse:
        if status == 404:
            return engineer.client.get("/nowhere", headers=headers)
        if status == 405:
            return engineer.client.put("/desk", headers=headers)
        return engineer.client.post("/desk", data={"do": "x" * 100_000}, headers=headers)

    page, told = ask(), ask(Accept="application/json")

    assert (page.status_code, page.mimetype) == (status, "text/html")
    assert (told.status_code, told.mimetype) == (status, "application/json")
    assert set(json.loads(told.data)) == {"error", "message"}
    assert "Nothing was changed." in page.text


class Loads(HTMLParser):
    """Collects what a page loads or carries within itself."""

    def __init__(self) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self.inline: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.inline += [f"{tag} {name}" for name in given if name.startswith("on") or name == "style"]
        if tag == "style" or (tag == "script" and "src" not in given):
            self.inline.append(tag)
        if tag in ("script", "img", "iframe", "source", "video", "audio", "embed"):
            self.addresses += [given["src"]] if "src" in given else []
        if tag == "link":
            self.addresses.append(given["href"])


def test_pages_load_our_own_files_alone_and_carry_no_code(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    engineer.scan(evening.link("front"))
    loaded: set[str] = set()

    for _, address in addresses(evening, "GET"):
        answer = engineer.ask("GET", address)
        if answer.mimetype == "text/html":
            page = Loads()
            page.feed(answer.text)
            loaded |= set(page.addresses)
            assert page.inline == []

    assert len(loaded) >= 3
    assert not [address for address in loaded if not address.startswith("/static/")]
    assert {address: engineer.ask("GET", address).status_code for address in loaded} == dict.fromkeys(
        loaded, 200
    )


def test_styles_load_nothing_from_elsewhere() -> None:
    css = (STATIC / "monreq.css").read_text(encoding="utf-8")

    foreign = re.findall(r"@import|url\(\s*['\"]?(?:https?:)?//", css)

    assert foreign == []
