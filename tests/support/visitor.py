"""A browser without JavaScript: it reads pages, fills in forms and presses their buttons."""

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from io import BytesIO
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from werkzeug.datastructures import Headers
from werkzeug.test import TestResponse

from tests.support.markup import Button, Element, Markup

JSON = {"Accept": "application/json"}
MINUS = "\N{MINUS SIGN}"
"""How pages print what is below zero."""

Values = Mapping[str, str | Sequence[str]]


class Page:
    """An answer, as a person finds it."""

    def __init__(self, response: TestResponse) -> None:
        self.response = response
        self.status: int = response.status_code
        self.headers: Headers = response.headers
        self.path: str = response.request.path
        self.source: str = response.text if response.mimetype == "text/html" else ""

    @cached_property
    def markup(self) -> Markup:
        return Markup(self.source)

    @property
    def text(self) -> str:
        """All words on the page."""
        return self.markup.text

    @property
    def notes(self) -> list[str]:
        """What the page calls attention to."""
        return [one.text for one in self.markup.root.every(role="alert") if one.text]

    def place(self, place: str) -> str:
        """The words of one place."""
        return self.markup.root.one(id=place).text

    def has_place(self, place: str) -> bool:
        return any(self.markup.root.every(id=place))

    def buttons(self) -> list[str]:
        """The names of all buttons that can be pressed."""
        return [one.words for one in self.markup.buttons() if not one.is_disabled]

    def button(self, words: str, action: str = "") -> Button:
        """The only button of this name, or the only one whose form goes to an address that ends so."""
        found = [
            one
            for one in self.markup.buttons()
            if one.words == words and one.form.attrs.get("action", self.path).endswith(action)
        ]
        assert len(found) == 1, f"{len(found)} buttons {words!r} among {self.buttons()}"
        assert not found[0].is_disabled
        return found[0]

    def button_with(self, value: str) -> Button:
        """The only button that sends this value."""
        (found,) = (one for one in self.markup.buttons() if one.value == value)
        assert not found.is_disabled
        return found

    def sent_by(self, button: Button, typed: Values | None = None) -> dict[str, str | Sequence[str]]:
        """What pressing a button sends, with some fields typed over."""
        fields: dict[str, str | Sequence[str]] = dict(self.markup.fields(button.form))
        if button.name:
            fields[button.name] = button.value
        unknown = set(typed or {}) - {one.attrs.get("name") for one in self.markup.root.every()}
        assert not unknown, f"the page has no field {unknown}"
        return {**fields, **(typed or {})}

    def target(self, form: Element) -> str:
        """Where a form goes."""
        return form.attrs.get("action", self.path)


class Visitor:
    """One browser, with its cookies."""

    def __init__(self, app: Flask) -> None:
        self.client: FlaskClient = app.test_client()

    def get(self, path: str, **headers: str) -> Page:
        return Page(self.client.get(path, headers=headers))

    def post(self, path: str, fields: Values, **headers: str) -> Page:
        """Send a form, without following."""
        return Page(_let_go(self.client.post(path, data=dict(fields), headers=headers)))

    def ask(self, method: str, path: str, **options: Any) -> TestResponse:
        """Send anything; the answer is read to its end."""
        return _let_go(self.client.open(path, method=method, buffered=True, **options))

    def press(self, page: Page, button: Button | str, typed: Values | None = None, **headers: str) -> Page:
        """Press a button, without following where it leads."""
        pressed = page.button(button) if isinstance(button, str) else button
        return self.post(page.target(pressed.form), page.sent_by(pressed, typed), **headers)

    def do(self, page: Page, button: Button | str, typed: Values | None = None) -> Page:
        """Press a button and see the page that it leads to: its own again where what was typed is refused."""
        answer = self.press(page, button, typed)
        if answer.status == 422:
            return answer
        assert answer.status == 303, answer.text
        return self.get(answer.headers["Location"])

    def scan(self, link: str, choose: Callable[[Page], str] | None = None) -> Page:
        """Open a link as a scanned code does, and confirm; returns the page that it leads to."""
        page = self.get(link)
        if page.status == 303:
            return self.get(page.headers["Location"])
        button = choose(page) if choose else page.buttons()[0]
        return self.do(page, button)


def _let_go(response: TestResponse) -> TestResponse:
    """Close the file in which the test client keeps a large body; else some later test is told that it was left open."""
    body = response.request.environ["wsgi.input"]
    if not isinstance(body, BytesIO):
        body.close()
    return response
