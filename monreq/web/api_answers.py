"""What the JSON interface answers: the fields of each answer, with their units; null is what does not apply."""

from datetime import datetime
from typing import Annotated, Literal

from pydantic import BaseModel, Field

from monreq.domain.exposure import RuleName
from monreq.domain.hearing import Heard
from monreq.domain.history import What
from monreq.domain.requests import Call, Kind, RequestState, Way
from monreq.domain.setup import Output, SourceKind, SourceUse
from monreq.web.api_heard import ToHearAnswer
from monreq.web.api_ids import TellsId
from monreq.web.api_moves import GroupAnswer, MoveAnswer, SendToSet

Db = Annotated[float, Field(description="[dB]")]
Revision = Annotated[int, Field(description="The show's revision that this is true at.")]
InOrOut = Literal["in", "out"]
Pan = Annotated[float, Field(description="-1 left, +1 right.")]
SourceId = Annotated[
    str | None, Field(description="A source's or a group's id; null: the whole mix, its output.")
]


class ErrorAnswer(BaseModel):
    """Why something cannot be."""

    error: Annotated[str, Field(description="A code in snake case, for programs.")]
    message: Annotated[str, Field(description="A sentence, for people.")]


class AnsweredAlready(ErrorAnswer):
    """Something else happened first."""

    requests: Annotated[
        list[TellsId], Field(description="Those that wait no longer, where it is about requests.")
    ] = []


class MusicianAnswer(BaseModel):
    """A person who hears a mix."""

    musician: str
    name: str


class OwnSum(MusicianAnswer):
    """What one musician's open requests of a row come to."""

    sum_db: Db | None
    sum_pan: Pan | None


class EarAnswer(BaseModel):
    """Of the ear of a row's mix: estimates from a level that was measured there, as the desk's row has them."""

    level_dba: Annotated[float | None, Field(description="At the louder ear now; null: silent. [dB(A)]")]
    after_dba: Annotated[
        float | None, Field(description="With the suggested move made; null: silent. [dB(A)]")
    ]
    as_asked_dba: Annotated[
        float | None, Field(description="With all that is asked; null: no less is suggested. [dB(A)]")
    ]
    off_db: Annotated[float, Field(description="How far the levels may be off, either way. [dB]")]
    minutes_left: Annotated[
        int | None,
        Field(
            description="How long the day lasts from now on with the suggested move made; null: silent, or no rule can tell. [min]"
        ),
    ]
    minutes_left_least: Annotated[int | None, Field(description="The same at the careful end. [min]")]
    minutes_left_most: Annotated[int | None, Field(description="The same at the other end. [min]")]
    rule: Annotated[RuleName, Field(description="What the time is reckoned by.")]
    said: Annotated[list[str], Field(description="What the desk's row says of it, in words.")]


class RowAnswer(BaseModel):
    """A row of the queue: all open requests of one kind for one source, or group, of one mix, added up."""

    mix: str
    mix_name: str
    source: SourceId
    source_name: str | None
    kind: Kind
    sum_db: Db | None
    sum_pan: Pan | None
    in_out: Annotated[InOrOut | None, Field(description="For in_out: in, out, or null where they disagree.")]
    words: Annotated[list[str], Field(description="For sound: what was said.")]
    asked: Annotated[int, Field(description="How often.")]
    asked_by: Annotated[list[str], Field(description="Names, the first to ask first.")]
    sums: Annotated[list[OwnSum], Field(description="Each musician's own sum.")]
    oldest_wait_s: Annotated[int, Field(description="How long the oldest has waited. [s]")]
    level_db: Annotated[float | None, Field(description="Where it stands now; null: off, or a group. [dB]")]
    suggested_db: Annotated[float | None, Field(description="Advice to a person who decides. [dB]")]
    set_level_db: Annotated[
        float | None, Field(description="The level that the advice leads to; null: a group. [dB]")
    ]
    sends: Annotated[list[SendToSet], Field(description="Of a group: each send to set.")]
    pan: Annotated[float | None, Field(description="Where it stands now, for pan.")]
    suggested_pan: Annotated[float | None, Field(description="Advice: the change of pan.")]
    set_pan: Annotated[float | None, Field(description="The pan that the advice leads to.")]
    cautions: Annotated[list[str], Field(description="What to mind, in words.")]
    caution_codes: Annotated[list[str], Field(description="The same in codes, in the same order.")]
    requests: Annotated[list[TellsId], Field(description="Ids, to be named by a decision.")]
    state: Annotated[RequestState, Field(description="waiting or set_aside.")]
    urgent: Call | None
    ear: Annotated[EarAnswer | None, Field(description="null: no level was measured at the ear.")]


class QueueAnswer(BaseModel):
    """The queue in working order, set aside last."""

    revision: Revision
    rows: list[RowAnswer]


class MixAnswer(BaseModel):
    """What one musician, or several who share it, hear."""

    mix: str
    mix_name: str
    output: Output
    is_fed_mono: bool
    place: str
    auxes: list[int]
    musicians: list[MusicianAnswer]
    drift_db: Annotated[
        float | None,
        Field(
            description="Estimate: how much louder at the louder ear than at the soundcheck mark, click and pans counted; null: no mark, "
            "or silent. [dB]"
        ),
    ]
    waiting: Annotated[int, Field(description="How many requests wait.")]
    waiting_db: Annotated[float, Field(description="Sum waiting for the whole mix. [dB]")]
    done_db: Annotated[float, Field(description="Done at the output since the soundcheck mark. [dB]")]
    output_db: Annotated[float | None, Field(description="Level of the output; null: off. [dB]")]


class MixesAnswer(BaseModel):
    """All mixes that the token may see."""

    revision: Revision
    mixes: list[MixAnswer]


class SendAnswer(BaseModel):
    """One source in one mix."""

    source: str
    source_name: str
    kind: SourceKind
    use: SourceUse
    level_db: Annotated[float | None, Field(description="null: off. [dB]")]
    pan: Annotated[float | None, Field(description="-1 left, +1 right; null: the mix is mono.")]
    waiting_db: Annotated[float, Field(description="Sum waiting for its level. [dB]")]
    done_db: Annotated[float, Field(description="Done since the soundcheck mark. [dB]")]
    margin_db: Annotated[float | None, Field(description="Feedback margin; null: not measured. [dB]")]
    confirmed_at: Annotated[
        datetime | None, Field(description="When somebody last looked at the desk for it.")
    ]


class OneMixAnswer(MixAnswer):
    """A mix with its sends, in the order of the input list."""

    revision: Revision
    sends: list[SendAnswer]
    groups: Annotated[list[GroupAnswer], Field(description="What can be asked for together.")]
    to_hear: Annotated[list[ToHearAnswer], Field(description="What the phones ask about, oldest first.")]


class EntryAnswer(BaseModel):
    """One thing that changed a mix, or that was asked of it."""

    revision: int
    at: datetime
    by: Annotated[str, Field(description="A musician's id, or desk.")]
    who: Annotated[str, Field(description="The musician's name, or desk.")]
    what: What
    source: SourceId
    source_name: str | None
    kind: Kind | None
    asked_db: Db | None
    asked_pan: Pan | None
    in_out: InOrOut | None
    words: str | None
    call: Call | None
    before_db: Annotated[float | None, Field(description="null: off, or nothing was moved. [dB]")]
    after_db: Annotated[float | None, Field(description="null: off, or nothing was moved. [dB]")]
    before_pan: Pan | None
    after_pan: Pan | None
    before_on: bool | None
    after_on: bool | None
    way: Way
    also: Annotated[
        list[MoveAnswer],
        Field(description="Each send of a group, the output against a raise, the rest down."),
    ]
    heard: Heard | None
    reason: str | None
    requests: list[TellsId]
    decision: TellsId | None


class HistoryAnswer(BaseModel):
    """The history of a mix, oldest first; ask next for what is after `revision`."""

    revision: Revision
    entries: list[EntryAnswer]


class AskAnswer(BaseModel):
    """What became of a request at once."""

    request: TellsId
    revision: Revision
    state: Annotated[RequestState, Field(description="waiting or cancelled_out.")]


class RequestAnswer(BaseModel):
    """One request and where it stands."""

    request: TellsId
    revision: Revision
    mix: str
    musician: str
    musician_name: str
    source: SourceId
    source_name: str | None
    kind: Kind
    asked_db: Db | None
    asked_pan: Pan | None
    in_out: InOrOut | None
    words: str | None
    call: Call | None
    asked_at: datetime
    state: RequestState
    done_db: Annotated[float | None, Field(description="How far the hand went for its row. [dB]")]
    done_pan: Annotated[float | None, Field(description="How far the hand went for its row.")]
    reason: str | None
    reason_text: Annotated[str | None, Field(description="The reason in words.")]
    decision: TellsId | None
    heard: Annotated[Heard | None, Field(description="How a musician said that it sounds since.")]


class WithdrawnAnswer(BaseModel):
    """A request that was taken back."""

    request: TellsId
    revision: Revision
    state: RequestState


class StandsAnswer(BaseModel):
    """Where a send or an output stands after what was recorded."""

    revision: Revision
    level_db: Annotated[float | None, Field(description="null: off, or not in the mix any more. [dB]")]
    pan: Annotated[float | None, Field(description="null: the mix is mono.")]


class DecisionAnswer(StandsAnswer):
    """A decision that was recorded."""

    decision: TellsId


class UndoneAnswer(DecisionAnswer):
    """A decision that was taken back."""

    requests: Annotated[list[TellsId], Field(description="Those that wait again.")]


class MarkAnswer(BaseModel):
    """The soundcheck mark."""

    revision: Revision
    marked_at: datetime


class AmountsAnswer(BaseModel):
    """How much the named amounts are."""

    touch: Db
    some: Db
    lot: Db


class ShowAnswer(BaseModel):
    """The show that the token belongs to."""

    show: str
    name: str
    revision: Revision
    is_open: bool
    is_demo: bool
    marked_at: Annotated[datetime | None, Field(description="When the soundcheck mark was set.")]
    amounts_db: AmountsAnswer
