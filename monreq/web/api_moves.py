"""Groups, their sends and the moves of hands, as the JSON interface answers them."""

from collections.abc import Iterable
from typing import Annotated

from pydantic import BaseModel, Field

from monreq.domain.group_sends import members_in
from monreq.domain.queue import Row
from monreq.domain.requests import Move
from monreq.domain.show import Show
from monreq.web.api_figures import level_or_null, pan_or_null

LevelOrOff = Annotated[float | None, Field(description="null: off. [dB]")]


class SendToSet(BaseModel):
    """One send of a group's row."""

    source: str
    source_name: str
    level_db: Annotated[float | None, Field(description="Where it stands now; null: off. [dB]")]
    set_level_db: Annotated[
        float | None, Field(description="The level that the advice leads to; null: off. [dB]")
    ]


class GroupAnswer(BaseModel):
    """Sources that can be asked for together, under the group's id in place of a source's."""

    source: Annotated[str, Field(description="The group's id.")]
    source_name: str
    sources: Annotated[list[str], Field(description="Those of it that are on this mix's list.")]
    sub_mix: Annotated[str | None, Field(description="The source that carries them as one send, if any.")]


class MoveAnswer(BaseModel):
    """What a hand did to one send, or to the output."""

    source: Annotated[str | None, Field(description="null: the output.")]
    source_name: str | None
    before_db: LevelOrOff
    after_db: LevelOrOff
    before_pan: float | None
    after_pan: float | None
    before_on: bool
    after_on: bool


def sends_to_set(show: Show, row: Row) -> list[SendToSet]:
    """Return the sends that a row of a group is about; none for any other row."""
    return [
        SendToSet(
            source=send.source or "",
            source_name=show.source_name(send.source) or "",
            level_db=level_or_null(send.before),
            set_level_db=level_or_null(send.after),
        )
        for send in row.sends
    ]


def groups_answer(show: Show, mix: str) -> list[GroupAnswer]:
    """Return the groups that something of is on a mix's list."""
    here = {group: [source.id for source, _ in members_in(show, mix, group)] for group in show.groups}
    return [
        GroupAnswer(source=group.id, source_name=group.name, sources=here[group.id], sub_mix=group.sub_mix)
        for group in show.groups.values()
        if here[group.id]
    ]


def moves_answer(show: Show, moves: Iterable[Move]) -> list[MoveAnswer]:
    """Return moves of hands, named as the show names things now."""
    return [
        MoveAnswer(
            source=move.source,
            source_name=show.source_name(move.source),
            before_db=level_or_null(move.before),
            after_db=level_or_null(move.after),
            before_pan=pan_or_null(move.before.pan_percent),
            after_pan=pan_or_null(move.after.pan_percent),
            before_on=move.before.is_on,
            after_on=move.after.is_on,
        )
        for move in moves
    ]
