"""What the buttons of all pages send, found on the pages themselves."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from werkzeug.exceptions import HTTPException
from werkzeug.routing import MapAdapter
from werkzeug.test import TestResponse

from monreq.services.passphrases import keep
from monreq.web.passphrase import PASSPHRASE
from monreq.web.tablet import tablet_path
from tests.support.markup import Markup
from tests.support.routes import addresses
from tests.support.stocked import Stocked
from tests.support.visitor import Visitor

_NO_PAGES = ("api", "static", "cards.pdf", "sheets.pdf", "healthz", "places", "asked")


def pages_for(stocked: Stocked, visitor: Visitor, endpoint: str) -> Iterator[tuple[str, str]]:
    """Give the address and the text of every page, and of those that lead to a route after something was done."""
    kept = stocked.monreq.bands.get(stocked.band.id).kept[0].id
    ids = {"kept1": kept, "band1": stocked.band.id, "band2": stocked.other.id}
    if endpoint == "tablet.pick":
        visitor.scan(tablet_path(stocked.monreq.key, stocked.show))
    if endpoint == "passphrase.remove_passphrase":
        stocked.monreq.settings.put(PASSPHRASE, keep("a horse on the stage"))
    room = f"/desk/{endpoint.partition('.')[0]}" if endpoint.partition(".")[0] != "phone" else "/mix"
    paths = [path for _, path in addresses(stocked, "GET") if not set(_NO_PAGES) & {*path.split("/")}]
    for path in sorted(
        (
            *paths,
            "/desk/mix/ears",
            stocked.link("side"),
            "/mix/ears/who",
            f"/desk/bands/{stocked.other.id}",
            "/language?back=/desk",
        ),
        key=lambda one: not one.startswith(room),
    ):
        for name, one in ids.items():
            path = path.replace(name, one)
        yield from _page(path, visitor.ask("GET", path))
    if endpoint.startswith("book_opening."):
        opened = f"/desk/books/{stocked.other.id}/open"
        page = visitor.get(opened)
        fields = page.sent_by(page.button("go on to the levels"))
        for path in ("/levels", "/report"):
            yield from _page(opened, visitor.ask("POST", opened + path, data=fields))


def _page(path: str, answer: TestResponse) -> Iterator[tuple[str, str]]:
    if answer.mimetype == "text/html" and answer.status_code == 200:
        yield path, answer.text.partition("<body")[2].partition(">")[2].partition("</body>")[0]


@dataclass(frozen=True)
class Sending:
    """What pressing a button of a page sends, and where."""

    action: str
    fields: Mapping[str, Any]


def sendings(stocked: Stocked, visitor: Visitor, endpoint: str) -> Iterator[Sending]:
    """Give what the buttons of all pages send that lead to a route."""
    urls = stocked.monreq.flask.url_map.bind("")
    for path, text in pages_for(stocked, visitor, endpoint):
        markup = Markup(text)
        for one in markup.root.every("form", method="post"):
            own = [button for button in markup.buttons() if button.form is one and not button.is_disabled]
            elements = list(markup.root.every("button"))
            actions = {
                element.attrs["formaction"]
                for element in elements
                if "formaction" in element.attrs and element in list(one.every("button"))
            }
            for action in (one.attrs.get("action", path), *sorted(actions)):
                if _leads_to(urls, action, endpoint):
                    pressed = {button.name: button.value for button in own if button.name}
                    yield Sending(action, {**pressed, **markup.fields(one)})


def _leads_to(urls: MapAdapter, action: str, endpoint: str) -> bool:
    try:
        found: object = urls.match(action.partition("?")[0], "POST")[0]
    except HTTPException:
        return False
    return found == endpoint
