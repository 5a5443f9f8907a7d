"""What a person does on the Prepare page."""

from tests.support.markup import Element
from tests.support.visitor import Page, Visitor

PREPARE = "/desk/prepare"


def add(visitor: Visitor, section: str, **typed: str | list[str]) -> Page:
    """Fill in the last line of a section, and add it."""
    page = visitor.get(PREPARE)
    part = page.markup.root.one(id=section)
    (button,) = (one for one in page.markup.buttons() if one.words == "add" and within(part, one.form))
    return visitor.do(page, button, typed)


def save(visitor: Visitor, address: str, **typed: str | list[str]) -> Page:
    page = visitor.get(PREPARE)
    return visitor.do(page, page.button("save", address), typed)


def within(part: Element, form: Element) -> bool:
    return any(one is form for one in part.every("form"))
