"""Reads a page as a person or a browser would: its words, its links, its forms with their buttons."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

_VOID = frozenset({"input", "meta", "link", "br", "hr", "img", "col"})
_UNREAD = frozenset({"script", "style", "head"})


@dataclass
class Element:
    """One element; its children are elements and texts."""

    tag: str
    attrs: dict[str, str]
    children: "list[Element | str]" = field(default_factory=list)

    def every(self, *tags: str, **attrs: str) -> "Iterator[Element]":
        """Give this element and those in it that have a tag, if any are named, and all these attributes."""
        ahead = [self]
        while ahead:
            here = ahead.pop()
            if (not tags or here.tag in tags) and attrs.items() <= here.attrs.items():
                yield here
            ahead.extend(child for child in reversed(here.children) if isinstance(child, Element))

    def one(self, *tags: str, **attrs: str) -> "Element":
        """Give the only such element."""
        (found,) = self.every(*tags, **attrs)
        return found

    @property
    def text(self) -> str:
        """What is read there, with single spaces."""
        return re.sub(r"\s+", " ", " ".join(self._texts())).strip()

    def _texts(self) -> Iterator[str]:
        if self.tag in _UNREAD:
            return
        for child in self.children:
            if isinstance(child, str):
                yield child
            else:
                yield from child._texts()


@dataclass(frozen=True)
class Button:
    """A button that sends a form."""

    form: Element
    words: str
    name: str
    value: str
    is_disabled: bool


class Markup(HTMLParser):
    """A page, or a fragment of one."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("root", {})
        self._open = [self.root]
        self._around: dict[int, Element] = {}  # the form that an element stands in
        self._forms: dict[str, Element] = {}
        self.feed(text)
        self.close()
        assert self._open == [self.root], f"{self._open[-1].tag} is not closed"

    @property
    def text(self) -> str:
        return self.root.text

    def buttons(self) -> list[Button]:
        """Give every button, with what it is called for those who cannot see it."""
        return [self._button(one) for one in self.root.every("button") if self._form_of(one) is not None]

    def fields(self, form: Element) -> dict[str, list[str]]:
        """Give what a browser would send of a form, without its button."""
        values: dict[str, list[str]] = {}
        for one in self.root.every("input", "select", "textarea"):
            if self._form_of(one) is form and "name" in one.attrs and "disabled" not in one.attrs:
                values.setdefault(one.attrs["name"], []).extend(_values(one))
        return {name: given for name, given in values.items() if given}

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(tag, {name: value or "" for name, value in attrs})
        self._open[-1].children.append(element)
        if (form := next((one for one in self._open if one.tag == "form"), None)) is not None:
            self._around[id(element)] = form
        if tag not in _VOID:
            self._open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in _VOID:
            self._open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self._open[-1].tag == tag, f"{tag} ends inside {self._open[-1].tag}"
        self._open.pop()

    def handle_data(self, data: str) -> None:
        self._open[-1].children.append(data)

    def _button(self, one: Element) -> Button:
        form = self._form_of(one)
        assert form is not None
        words = one.attrs.get("aria-label") or one.text
        return Button(
            form, words, one.attrs.get("name", ""), one.attrs.get("value", ""), "disabled" in one.attrs
        )

    def _form_of(self, one: Element) -> Element | None:
        if "form" in one.attrs:
            return self._named(one.attrs["form"])
        return self._around.get(id(one))

    def _named(self, name: str) -> Element:
        if name not in self._forms:
            self._forms[name] = self.root.one("form", id=name)
        return self._forms[name]


def _values(one: Element) -> list[str]:
    if one.tag == "select":
        options = list(one.every("option"))
        chosen = [option for option in options if "selected" in option.attrs] or options[:1]
        return [option.attrs.get("value", option.text) for option in chosen]
    if one.attrs.get("type") in ("checkbox", "radio"):
        return [one.attrs.get("value", "on")] if "checked" in one.attrs else []
    if one.tag == "textarea":
        return ["".join(child for child in one.children if isinstance(child, str))]
    return [one.attrs.get("value", "")]
