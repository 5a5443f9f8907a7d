"""Lets a browser in by a link without a page of it: what test_asking.py shows in full once, others only need done."""

from urllib.parse import urljoin, urlsplit

import requests
from playwright.sync_api import BrowserContext

from tests.support.markup import Button, Markup
from tests.support.serving import PATIENCE_S


def let_in(context: BrowserContext, link: str, you: str | None = None) -> str:
    """Press the button behind a link, the one with a name if there are several; returns the address that it opens.

    Every name that a link may carry is this machine's own, as in the browser.
    """
    site = urlsplit(link)
    here = f"http://127.0.0.1:{site.port}"
    with requests.Session() as visit:
        visit.headers["Host"] = site.netloc
        asked = visit.get(here + site.path, allow_redirects=False, timeout=PATIENCE_S)
        assert asked.status_code == 200, asked.text
        markup = Markup(asked.text)
        pressed = _button(markup, you)
        fields = {**markup.fields(pressed.form), **({pressed.name: pressed.value} if pressed.name else {})}
        action = urljoin(site.path, pressed.form.attrs.get("action", ""))
        said = visit.post(here + action, data=fields, allow_redirects=False, timeout=PATIENCE_S)
        assert said.status_code == 303, said.text
        context.add_cookies(
            [
                {"name": one.name, "value": one.value or "", "domain": site.hostname, "path": one.path}
                for one in visit.cookies
            ]
        )
    return urljoin(f"http://{site.netloc}{action}", said.headers["Location"])


def _button(markup: Markup, you: str | None) -> Button:
    found = [one for one in markup.buttons() if you in (None, one.words)]
    assert len(found) == 1, [one.words for one in markup.buttons()]
    return found[0]
