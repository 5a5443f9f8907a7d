"""What was typed into a form that was refused, so that its page shows it again, with the reason beside it."""

from collections.abc import Callable
from dataclasses import dataclass

from flask import g, request
from flask.typing import ResponseReturnValue
from werkzeug.datastructures import MultiDict

from monreq.web.asked_again import Question

_NAME = "monreq_refused"


@dataclass(frozen=True, slots=True)
class Typed:
    """The fields of one form as the page is to show them.

    Attributes:
        fields: What was typed; None if this form was not refused.
        sentence: Why it was refused.
        question: What is asked about it before it is taken; None where it was refused.
    """

    fields: MultiDict[str, str] | None = None
    sentence: str = ""
    question: Question | None = None

    def value(self, name: str, otherwise: object = "") -> str:
        """Return what a field shows."""
        return str(otherwise) if self.fields is None else self.fields.get(name, "")

    def ticked(self, name: str, *, otherwise: bool) -> bool:
        """Tell whether a box is ticked."""
        return otherwise if self.fields is None else name in self.fields

    def chosen(self, name: str, value: str, *, otherwise: bool) -> bool:
        """Tell whether one of several boxes of one name is ticked."""
        return otherwise if self.fields is None else value in self.fields.getlist(name)


def typed_in(action: str) -> Typed:
    """Return what was typed into the form that goes to an address, if that is the one which was refused."""
    refused: Typed | None = g.get(_NAME)
    return refused if refused is not None and request.path == action.partition("?")[0] else Typed()


def refused_sentence() -> str:
    """Return why the form of this request was refused; empty if it was not."""
    refused: Typed | None = g.get(_NAME)
    return refused.sentence if refused is not None else ""


def refused_id(new_id: Callable[[], str]) -> str:
    """Return the id for a page's new things: that of the form which was refused, so that it fits its address."""
    refused: Typed | None = g.get(_NAME)
    kept = refused.value("client_id") if refused is not None else ""
    return kept if kept.isascii() and kept.isalnum() else new_id()


def shown_again(sentence: str, show_page: Callable[[], ResponseReturnValue]) -> ResponseReturnValue:
    """Answer a refused form with its page, everything typed still in it."""
    return _shown(Typed(request.form, sentence), show_page)


def asked_on_page(question: Question, show_page: Callable[[], ResponseReturnValue]) -> ResponseReturnValue:
    """Answer a form that is asked about with its page, everything typed still in it."""
    return _shown(Typed(request.form, question=question), show_page)


def _shown(typed: Typed, show_page: Callable[[], ResponseReturnValue]) -> ResponseReturnValue:
    setattr(g, _NAME, typed)
    return show_page(), 422  # type: ignore[return-value]  # a page is drawn as text, which Flask takes with a status
