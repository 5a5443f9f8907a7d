"""Ids of requests and decisions as programs get and name them: with the mark of their show, so that one is never taken for another's."""

from typing import Annotated

from pydantic import AfterValidator, Field, PlainSerializer

from monreq.domain.refusals import Refusal, UnknownDecision, UnknownRequest
from monreq.web.show_marks import mark_of_page


def told_id(own: str) -> str:
    """Return the id that a program is told for one of the show that its token belongs to."""
    return f"{own}.{mark_of_page()}"


def meant_id(told: str, unknown: type[Refusal]) -> str:
    """Return the show's own id for one that a program names.

    Raises:
        Refusal: `unknown`: it is of another show, or from before a restoring.
    """
    own, _, mark = told.partition(".")
    if mark != mark_of_page():
        raise unknown
    return own


TellsId = Annotated[str, PlainSerializer(told_id)]
NamesRequest = Annotated[
    str, Field(max_length=40), AfterValidator(lambda told: meant_id(told, UnknownRequest))
]
NamesDecision = Annotated[
    str, Field(max_length=40), AfterValidator(lambda told: meant_id(told, UnknownDecision))
]
