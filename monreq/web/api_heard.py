"""How a change sounds, as the JSON interface takes and answers it."""

from collections.abc import Sequence
from typing import Annotated

from pydantic import BaseModel, Field

from monreq.domain.decibels import to_db
from monreq.domain.events import DESK, ChangeAsked, Recorded
from monreq.domain.hearing import Heard
from monreq.domain.hearing_commands import SayHeard
from monreq.domain.show import Show
from monreq.domain.still_to_hear import to_hear
from monreq.web.access import Principal
from monreq.web.api_bodies import Body, ClientId, Id
from monreq.web.api_ids import NamesDecision, TellsId


class HeardBody(Body):
    """How what a decision changed sounds to who asked for it."""

    client_id: ClientId
    musician: Annotated[Id | None, Field(description="Who says it; null is the mix's only musician.")] = None
    decision: NamesDecision
    heard: Annotated[Heard, Field(description="too_little and too_much ask again by themselves.")]


class ToHearAnswer(BaseModel):
    """A decision about which the phones of a mix ask how it sounds."""

    decision: TellsId
    source: Annotated[str | None, Field(description="A source's or a group's id; null: the whole mix.")]
    source_name: str | None
    done_db: Annotated[float | None, Field(description="null: the rest of the mix went down. [dB]")]


class HeardAnswer(BaseModel):
    """What was said about a decision."""

    decision: TellsId
    revision: Annotated[int, Field(description="The show's revision that this is true at.")]
    heard: Heard
    request: Annotated[TellsId | None, Field(description="What was asked again by itself; null: nothing.")]


def heard_command(principal: Principal, mix: str, said: HeardBody) -> SayHeard:
    """Return the command; one that the desk enters for somebody says so."""
    by = DESK if principal.is_desk else None
    return SayHeard(mix, said.musician, said.decision, said.heard, by, said.client_id)


def heard_answer(said: HeardBody, recorded: Sequence[Recorded]) -> HeardAnswer:
    """Return what the events of one verdict came to."""
    again = (one.event.request for one in recorded if isinstance(one.event, ChangeAsked))
    return HeardAnswer(
        decision=said.decision, revision=recorded[-1].revision, heard=said.heard, request=next(again, None)
    )


def to_hear_answer(show: Show, mix: str) -> list[ToHearAnswer]:
    """Return what the phones of a mix ask about, the oldest first."""
    return [
        ToHearAnswer(
            decision=decision.id,
            source=decision.key.source,
            source_name=show.source_name(decision.key.source),
            done_db=None if decision.done_for_musicians is None else to_db(decision.done_for_musicians),
        )
        for decision in to_hear(show, mix)
    ]
