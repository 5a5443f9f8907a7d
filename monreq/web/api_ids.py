"""Ids of requests and decisions as programs get and name them: with the mark of their show, so that one is never taken for another's."""

from typing import Annotated

from pydantic import AfterValidator, Field, PlainSerializer

from monreq.web.show_marks import mark_of_page


def told_id(own: str) -> str:
    """Return the id that a program is told for one of the show that its token belongs to."""
    return f"{own}.{mark_of_page()}"


def meant_id(told: str) -> str:
    """Return the show's own id for one that a program names; no id at all if it is another show's, or older than a restoring."""
    own, _, mark = told.partition(".")
    return own if mark == mark_of_page() else f"?{told}"


TellsId = Annotated[str, PlainSerializer(told_id)]
NamesId = Annotated[str, Field(max_length=40), AfterValidator(meant_id)]
