"""Words that try to be more than words, typed into every text field there is, and read on every page there is."""

import re
from typing import Any
from urllib.parse import urlsplit

import pytest
import requests
from playwright.sync_api import BrowserContext, Page

from tests.browser.conftest import DESK, OpenContext, OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.serving import PATIENCE_S

pytestmark = pytest.mark.security

# Each within the 60 characters of a name.
HOSTILE = [
    "<img src=//evil.example/x onerror=alert(1)>",
    '"\' onfocus=alert(1) autofocus x="',
    "</textarea></style></title><script>alert(1)</script>",
    "javascript:alert(1)//'-alert(1)-'",
    "{{ 7 * 7 }}{% raw %} %(x)s ${7*7} &lt;b&gt;",
    "\N{RIGHT-TO-LEFT OVERRIDE}txet\N{NULL}\N{BACKSPACE}\N{ESCAPE}[31m\N{ZERO WIDTH SPACE}\N{BYTE ORDER MARK}k",
    "Z" + "\N{COMBINING TILDE}\N{COMBINING DIAERESIS}" * 15,
]

READ = """async (address) => {
  const text = await (await fetch(address)).text();
  const page = new DOMParser().parseFromString(text, "text/html");
  const links = [...page.links].map((one) => new URL(one.getAttribute("href"), address).href.split("#")[0]);
  const forms = [...page.forms].map((form) => ({
    action: new URL(form.getAttribute("action") || address, address).pathname,
    fields: Object.fromEntries(new FormData(form)),
    typed: [...form.elements].filter((one) => one.name && !one.readOnly
      && (one.tagName === "TEXTAREA" || (one.tagName === "INPUT" && one.type === "text"))
      && !/^[-+@\\u2212\\d.,\\s]+$/.test(one.value)).map((one) => one.name),
    button: [...form.elements].filter((one) => one.tagName === "BUTTON" && one.name)
      .map((one) => [one.name, one.value])[0] || null,
  }));
  return { links, forms };
}"""
"""Where a page leads, and what each of its forms would send, which of its fields take words, and its first button that says something."""

INTRUDERS = """() => [...document.querySelectorAll("body *")].filter((one) =>
  ["IMG", "IFRAME", "OBJECT", "EMBED", "BASE", "LINK", "META", "STYLE"].includes(one.tagName)
  || (one.tagName === "SCRIPT" && !one.src.startsWith(`${location.origin}/static/`) && one.type !== "application/json")
  || [...one.attributes].some((attribute) => attribute.name.startsWith("on"))
  || /^\\s*(javascript|data):/i.test(one.getAttribute("href") || one.getAttribute("action") || "")
).map((one) => one.outerHTML.slice(0, 200))"""
"""Elements and attributes that no page of ours has in its body."""

DIRECTIONAL = "\u202a\u202b\u202c\u202d\u202e"


def test_no_words_are_more_than_words_on_any_page(
    demo: Demo, open_context: OpenContext, open_phone: OpenPhone, open_desk: OpenDesk
) -> None:
    desk, phone = open_desk(), open_phone("Bass")
    demo.ask("bass", "guitar", 3)

    pages = {page: _pages(page) for page in (desk.page, phone.page)}

    forms = [(page, form) for page, paths in pages.items() for form in _forms(page, paths)]

    for words in HOSTILE:
        for page, form in forms:
            _send(page.context, page.url, form, words)

    seen = {path: _look(page, path) for page, paths in pages.items() for path in paths}
    assert len(forms) >= 8, forms
    assert len(seen) >= 10, seen
    assert {path: found for path, found in seen.items() if found} == {}
    stranger = open_context(DESK).new_page()
    stranger.goto(demo.links["Bass"])
    assert stranger.evaluate(INTRUDERS) == []


def _forms(page: Page, paths: list[str]) -> list[dict[str, Any]]:
    """Return the forms of these pages that have a field for words: one for each kind of address."""
    found: dict[tuple[str, ...], dict[str, Any]] = {}
    for path in paths:
        for form in page.evaluate(READ, path)["forms"]:
            parts = form["action"].split("/")
            kind = (*parts[:-1], *form["typed"]) if len(parts) > 3 else (form["action"], *form["typed"])
            if form["typed"]:
                found.setdefault(kind, form)
    return list(found.values())


def _send(context: BrowserContext, origin: str, form: dict[str, Any], words: str) -> None:
    fields = {**form["fields"], **dict.fromkeys(form["typed"], words)}
    if form["button"]:
        fields[form["button"][0]] = form["button"][1]
    site = urlsplit(origin)
    kept = "; ".join(f"{one.get('name')}={one.get('value')}" for one in context.cookies(origin))
    answer = requests.post(
        f"http://127.0.0.1:{site.port}{form['action']}",
        data=fields,
        headers={"Host": site.netloc, "Cookie": kept, "Accept": "text/html"},
        allow_redirects=False,
        timeout=PATIENCE_S,
    )
    assert answer.status_code < 500, (form["action"], answer.status_code)


def _pages(page: Page) -> list[str]:
    """The address of this page, and of those that it and they lead to: one of each kind, and none that is a file."""
    start = page.url.partition("?")[0]
    found: dict[str, str] = {}
    for address in (start, *_links(page, start)):
        for link in (address, *_links(page, address)):
            found.setdefault(re.sub(r"\d+|\?.*", "", urlsplit(link).path), link)
    return list(found.values())


def _links(page: Page, address: str) -> list[str]:
    links: list[str] = page.evaluate(READ, address)["links"]
    ours = urlsplit(address).netloc
    return [
        link
        for link in dict.fromkeys(links)
        if urlsplit(link).netloc == ours
        and "/j/" not in link
        and not link.endswith((".pdf", ".svg", ".csv", "/file"))
    ]


def _look(page: Page, path: str) -> list[str]:
    page.goto(path)
    found: list[str] = page.evaluate(INTRUDERS)
    text: str = page.evaluate("() => document.body.textContent")
    return found + [f"U+{ord(one):04X}" for one in text if one in DIRECTIONAL + "\x00\x08\x1b"]
