"""A player's browser, without JavaScript and without eyes: every answer goes past the judges."""

import io
import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final, Protocol
from urllib.parse import urlencode

from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from monreq.domain.events import Recorded
from tests.evenings.forms import Button, Form, Read, Sent, read
from tests.evenings.found import Found
from tests.evenings.house import House

OUT: Final = (401, 403, 404, 410)
_LANGUAGE: Final = re.compile(r'<html lang="([^"]+)"')
_REDIRECTS: Final = (301, 302, 303, 307, 308)
_REDIRECTS_AT_MOST: Final = 5


@dataclass
class Page:
    """An answer.

    Attributes:
        drawn_at: After how many steps of the evening.
    """

    path: str
    status: int
    text: str
    drawn_at: int = 0
    note: Callable[[Form], None] = lambda _form: None

    @cached_property
    def read(self) -> Read:
        """What is on it, once somebody looks."""
        found = read(self.text, self.path)
        for form in found.forms:
            self.note(form)
        return found

    @property
    def forms(self) -> tuple[Form, ...]:
        return self.read.forms

    @property
    def is_out(self) -> bool:
        """Whether the player was shown the door."""
        return self.status in OUT


@dataclass(frozen=True)
class Done:
    """One thing that a player sent, and all that was recorded of it.

    Attributes:
        show_id: The show that the page was of which it was sent from.
        mix: The mix whose musicians sent it; None for a desk.
        sent: The fields, or the JSON body as fields.
        verb, target: What the button said.
    """

    who: str
    show_id: str
    mix: str | None
    musician: str
    endpoint: str
    verb: str
    target: str
    sent: Sent
    status: int
    news: Mapping[str, list[Recorded]]


class Judges(Protocol):
    """Who looks at everything."""

    def done(self, done: Done) -> None:
        """Judge what a press or a call came to."""

    def page(self, whose: "Browser", page: Page) -> None:
        """Judge a page."""


class Browser:
    """One browser, with its cookies and its language.

    Attributes:
        show_id, mix, musician: Whose page it shows; no mix for a desk, no musician where nobody was chosen.
        bearer: The token of the code that was scanned.
        spoken: The language that its last page was in.
    """

    mix: str | None

    def __init__(self, house: House, judges: Judges, who: str, language: str) -> None:
        self.house, self.who, self.language, self._judges = house, who, language, judges
        self.show_id, self.mix, self.musician = "", None, ""
        self.spoken = ""
        self.client: FlaskClient = house.monreq.flask.test_client()
        self.bearer = ""

    def get(self, path: str) -> Page:
        """Open a page, and those that it leads to."""
        response = self._open("GET", path)
        for _ in range(_REDIRECTS_AT_MOST):
            if response.status_code not in _REDIRECTS:
                return self._page(response)
            response = self._open("GET", response.headers["Location"])
        raise Found("errors", f"{path} leads from page to page without end")

    def press(self, form: Form, button: Button, typed: Mapping[str, str | list[str]] | None = None) -> Page:
        """Press a button, and see the page that it leads to."""
        sent = form.sends(button, typed)
        action = button.leads_to or form.action
        if form.method == "GET":
            return self.get(_with_query(action, sent))
        endpoint = self.house.endpoint("POST", action)
        response = self._open("POST", action, data=_data(sent))
        self._judge(endpoint, button, sent, response.status_code)
        self.house.reached.forms[endpoint, button.verb] += 1
        if response.status_code in _REDIRECTS:
            return self.get(response.headers["Location"])
        return self._page(response)

    def call(self, method: str, path: str, body: Mapping[str, Any] | None = None) -> tuple[int, Any]:
        """Call the JSON interface with the token of the player's code."""
        headers = {"Authorization": f"Bearer {self.bearer}", "Accept": "application/json"}
        address = f"/api/v1{path}"
        response = self._open(method, address, headers=headers, json=body)
        if method != "GET":
            sent: Sent = {name: [json.dumps(value)] for name, value in (body or {}).items()}
            self._judge(self.house.endpoint(method, address), Button("", ""), sent, response.status_code)
        return response.status_code, response.get_json(silent=True)

    def fetch(self, path: str) -> TestResponse:
        """Fetch what is no page."""
        return self._open("GET", path)

    def _judge(self, endpoint: str, button: Button, sent: Sent, status: int) -> None:
        target = button.value.partition(":")[2]
        self._judges.done(
            Done(
                self.who,
                self.show_id,
                self.mix,
                self.musician,
                endpoint,
                button.verb,
                target,
                sent,
                status,
                self.house.news(),
            )
        )

    def _open(self, method: str, path: str, **options: Any) -> TestResponse:
        headers = {"Accept-Language": self.language, **options.pop("headers", {})}
        self.house.trail.note(self.who, _told(method, path, options))
        response = self.client.open(path, method=method, headers=headers, buffered=True, **options)
        if response.status_code >= 500:
            raise Found("errors", f"{method} {path} answered {response.status_code} to {self.who}")
        self.house.check_log()
        if response.status_code < 400:
            self.house.reached.routes[method, self.house.endpoint(method, path)] += 1
        return response

    def _page(self, response: TestResponse) -> Page:
        path = response.request.path
        if response.mimetype != "text/html":
            return Page(path, response.status_code, "", self.house.trail.count)
        page = Page(path, response.status_code, response.text, self.house.trail.count, self._note_buttons)
        found = _LANGUAGE.search(page.text)
        self.spoken = found[1] if found else self.spoken
        self._judges.page(self, page)
        return page

    def _note_buttons(self, form: Form) -> None:
        if form.method == "POST":
            for button in form.buttons:
                endpoint = self.house.endpoint("POST", button.leads_to or form.action)
                self.house.reached.seen.add((endpoint, button.verb))


def _data(sent: Sent) -> dict[str, Any]:
    """Return what is posted; a chosen file is one."""
    return {
        name: [(io.BytesIO(one.encode()), "band.json") for one in values] if name == "book" else values
        for name, values in sent.items()
    }


def _with_query(action: str, sent: Sent) -> str:
    pairs = [(name, one) for name, values in sent.items() for one in values]
    return f"{action.partition('?')[0]}?{urlencode(pairs)}"


def _told(method: str, path: str, options: Mapping[str, Any]) -> str:
    sent = options.get("data") or options.get("json") or {}
    hidden = ("csrf_token", "client_id", "book")
    shown = {name: value for name, value in sent.items() if name not in hidden and "row-" not in name}
    row = str(sent.get("do", [""])[0]).partition(":")[2].partition(":")[0] if "do" in sent else "?"
    own = {name: value for name, value in sent.items() if row and name.startswith(f"{row}-")}
    return f"{method} {path} {json.dumps({**shown, **own}, ensure_ascii=False)[:300] if sent else ''}".strip()
