"""What tests of the queue at the desk press and read, and where requests stand."""

from monreq.domain.requests import RequestState
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

VOICE = "row-front-voice-level"
DRUMS = "row-ears-drums-level"


def press(visitor: Visitor, page: Page, value: str, **typed: str) -> Page:
    """Press the button that sends a value, with fields of its row typed, and see where it leads."""
    place = value.partition(":")[2]
    return visitor.do(page, page.button_with(value), {f"{place}-{name}": one for name, one in typed.items()})


def rows(page: Page) -> list[str]:
    return [
        one.attrs["id"]
        for one in page.markup.root.one(id="queue").every("li")
        if one.attrs.get("id", "").startswith("row-")
    ]


def cells(page: Page, mix: str) -> tuple[str, str]:
    """What the table of mixes says of one: its drift, and what waits."""
    found = [one.text for one in page.markup.root.one(id=f"mix-{mix}").every("td")]
    return found[0], found[-1]


def states(evening: Evening, *requests: str) -> list[RequestState]:
    """Where requests stand: answered ones by the decision that stands."""
    show = evening.show
    found = {
        request.id: decision.state_of(request)
        for decision in show.decisions.values()
        if not decision.is_undone
        for request in decision.requests
    }
    return [
        RequestState.WAITING
        if one in show.open_requests and not show.open_requests[one].is_set_aside
        else found[one]
        for one in requests
    ]
