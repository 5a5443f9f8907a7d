"""What a person can do on a page as it was drawn: its forms with their fields and buttons, and its links."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from tests.support.markup import Element, Markup

Sent = dict[str, list[str]]
"""What a browser sends of a form: every value by its field's name."""

_CONTROLS: Final = ("input", "select", "textarea")
_HAND: Final = (*_CONTROLS, "button")


@dataclass(frozen=True)
class Field:
    """One field.

    Attributes:
        kind: As its type says; select and textarea are kinds too.
        values: What it sends as it stands.
        choices: What it could send, where it says.
    """

    name: str
    kind: str
    values: tuple[str, ...]
    choices: tuple[str, ...]

    @property
    def is_typed(self) -> bool:
        """Whether a person writes into it."""
        return self.kind in ("text", "password", "textarea", "number")


@dataclass(frozen=True)
class Button:
    """A button of a form: its name and value, and where it leads if elsewhere than its form."""

    name: str
    value: str
    leads_to: str = ""

    @property
    def verb(self) -> str:
        """What it does, without to what: done, more-lot, undo."""
        return self.value.partition(":")[0] if self.name == "do" else self.name


@dataclass
class Form:
    """A form, with everything that belongs to it wherever it stands on the page."""

    action: str
    method: str
    fields: list[Field] = field(default_factory=list)
    buttons: list[Button] = field(default_factory=list)

    def sends(self, button: Button, typed: Mapping[str, str | list[str]] | None = None) -> Sent:
        """Return what pressing a button sends, with some fields filled in otherwise."""
        sent: Sent = {}
        for one in self.fields:
            sent.setdefault(one.name, []).extend(one.values)
        if button.name:
            sent[button.name] = [button.value]
        for name, value in (typed or {}).items():
            sent[name] = [value] if isinstance(value, str) else value
        return {name: values for name, values in sent.items() if values}

    def value(self, name: str) -> str:
        """Return what a hidden field holds."""
        return next((one.values[0] for one in self.fields if one.name == name and one.values), "")


@dataclass(frozen=True)
class Read:
    """A page as it was read."""

    forms: tuple[Form, ...]
    links: tuple[str, ...]
    root: Element

    @property
    def words(self) -> str:
        return self.root.text


def read(source: str, path: str) -> Read:
    """Read a page; one that does not close what it opens fails here."""
    root = Markup(source).root
    inside = list(_inside(root, None))
    forms = {id(one): _form(one, path) for one, _ in inside if one.tag == "form"}
    named = {one.attrs["id"]: forms[id(one)] for one, _ in inside if one.tag == "form" and "id" in one.attrs}
    for one, around in inside:
        if one.tag in _HAND:
            form = named.get(one.attrs["form"]) if "form" in one.attrs else forms.get(id(around))
            if form is not None:
                _put(form, one)
    links = tuple(one.attrs["href"] for one, _ in inside if one.tag == "a" and "href" in one.attrs)
    return Read(tuple(forms.values()), links, root)


def _form(one: Element, path: str) -> Form:
    return Form(one.attrs.get("action") or path, one.attrs.get("method", "get").upper())


def _inside(one: Element, around: Element | None) -> Iterator[tuple[Element, Element | None]]:
    """Give every element with the form around it."""
    yield one, around
    inner = one if one.tag == "form" else around
    for child in one.children:
        if isinstance(child, Element):
            yield from _inside(child, inner)


def _put(form: Form, one: Element) -> None:
    if "disabled" in one.attrs:
        return
    if one.tag == "button" and one.attrs.get("type", "submit") == "submit":
        form.buttons.append(
            Button(one.attrs.get("name", ""), one.attrs.get("value", ""), one.attrs.get("formaction", ""))
        )
    elif one.tag in _CONTROLS and one.attrs.get("name"):
        form.fields.append(_field(one))


def _field(one: Element) -> Field:
    name = one.attrs["name"]
    if one.tag == "select":
        options = list(one.every("option"))
        choices = tuple(option.attrs.get("value", option.text) for option in options)
        chosen = [at for at, option in enumerate(options) if "selected" in option.attrs] or [0]
        return Field(name, "select", tuple(choices[at] for at in chosen if choices), choices)
    if one.tag == "textarea":
        return Field(name, "textarea", ("".join(part for part in one.children if isinstance(part, str)),), ())
    kind = one.attrs.get("type", "text")
    if kind in ("checkbox", "radio"):
        value = one.attrs.get("value", "on")
        return Field(name, kind, (value,) if "checked" in one.attrs else (), (value,))
    return Field(name, kind, (one.attrs.get("value", ""),), ())
