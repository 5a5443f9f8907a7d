"""What tests of the phone page read off it and off the queue, and how the desk answers it."""

from monreq.domain import commands as c
from monreq.domain.requests import Outcome
from tests.support.evening import Evening
from tests.support.visitor import Page


def answer(
    evening: Evening, outcome: Outcome, *requests: str, done: int | None = None, reason: str = ""
) -> None:
    evening.do(c.Answer(requests, outcome, done, reason=reason))


def waiting(evening: Evening) -> list[tuple[str | None, str, int]]:
    return [(source, kind, amount) for _, source, kind, amount in evening.asked()]


def names_on_strips(page: Page) -> list[str]:
    strips = page.markup.root.one("ul", id="strips")
    return [one.text for one in strips.every("b")]


def error_of(page: Page) -> object:
    return (page.response.json or {}).get("error")


def one_asked(evening: Evening, tenths: int = 60, source: str | None = "voice") -> str:
    return evening.ask("front", source, tenths)
