"""What a sending of the desk's form says: the fields of its own row, or those beside its button, and no others."""

from collections.abc import Mapping
from dataclasses import dataclass

from flask import request

from monreq.web.asked_again import CONFIRMS
from monreq.web.kept_typing import typed_in


@dataclass(frozen=True, slots=True)
class FigureAgain:
    """A figure that is asked about, for a page without a script: its field once more, with what goes along.

    Attributes:
        hidden: Names and values that are sent as they were.
        field, value: What was typed, to be sent again or typed over.
    """

    sentence: str
    hidden: tuple[tuple[str, str], ...]
    field: str
    value: str


# Which fields go with a button that belongs to no row.
_BESIDE: Mapping[str, str] = {
    "note_own": "note",
    "line_check": "line",
    "ask_line": "asked",
    "choose_typed": "typed",
}


def said() -> dict[str, object]:
    """Return what was said: the button, and the fields of its row, or those beside it, alone."""
    button = request.form.get("do", "")
    verb, _, place = button.partition(":")
    place = place.partition(":")[0]
    own = f"{place}-" if place.startswith("row-") else f"{_BESIDE.get(verb, verb)}-"
    fields = {name: value for name, value in request.form.items() if name.startswith(own)}
    return {"do": button, **fields}


def typed_figure() -> dict[str, object]:
    """Return what is asked about where it makes little sense: the button, and the figure and the requests of its row."""
    button = request.form.get("do", "")
    requests = request.form.get(f"{button.partition(':')[2]}-requests", "")
    return {"do": button, "requests": requests, "figure": request.form.get(_figure_field(button), "").strip()}


def figure_again(action: str) -> FigureAgain | None:
    """Return what is asked about of the form that goes to an address; None where nothing is."""
    question = typed_in(action).question
    if question is None:
        return None
    field = _figure_field(request.form.get("do", ""))
    kept = tuple((name, str(value)) for name, value in said().items() if name != field)
    hidden = (*kept, (CONFIRMS, question.confirms))
    return FigureAgain(question.sentence, hidden, field, request.form.get(field, ""))


def _figure_field(button: str) -> str:
    return f"{button.partition(':')[2]}-figure"
