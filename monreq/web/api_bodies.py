"""What the JSON interface accepts: the shape of each body; whether it makes sense is the domain's to say."""

from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, RootModel, model_validator

from monreq.domain.decibels import to_db
from monreq.domain.decide_asking import LARGEST_CHANGE_TENTHS, LARGEST_PAN_CHANGE_PERCENT
from monreq.domain.requests import Amount, Call, Outcome, Way
from monreq.web.api_ids import NamesRequest

_LARGEST_DB = to_db(LARGEST_CHANGE_TENTHS)
_LARGEST_PAN = LARGEST_PAN_CHANGE_PERCENT / 100
_FAR_DB = 1000  # beyond any desk's scale; whether a level is on this desk's is the domain's to say
_MOST_REQUESTS = 1000  # chosen: more than one row will ever hold

_Number = Field(strict=True, allow_inf_nan=False)

ClientId = Annotated[
    str,
    Field(
        min_length=1,
        max_length=64,
        pattern=r"^[A-Za-z0-9_.:-]+$",
        description="Chosen by the client for this submission; sent again, it is answered again, not done again.",
    ),
]
ChangeDb = Annotated[
    float, _Number, Field(ge=-_LARGEST_DB, le=_LARGEST_DB, description="In whole tenths, not 0. [dB]")
]
ChangePan = Annotated[
    float,
    _Number,
    Field(
        ge=-_LARGEST_PAN,
        le=_LARGEST_PAN,
        description="Negative is left, 1 a whole side; in hundredths, not 0.",
    ),
]
DoneDb = Annotated[
    float, _Number, Field(ge=-_FAR_DB, le=_FAR_DB, description="The change made, in whole tenths. [dB]")
]
LevelDb = Annotated[
    float, _Number, Field(ge=-_FAR_DB, le=_FAR_DB, description="As read off the desk, in whole tenths. [dB]")
]
Pan = Annotated[float, _Number, Field(ge=-1, le=1, description="-1 left, +1 right, in hundredths.")]
Id = Annotated[str, Field(max_length=40)]
SourceOrMix = Annotated[
    Id | None, Field(description="A source's or a group's id; null is the whole mix, its output.")
]


class Body(BaseModel):
    """A JSON object with these fields and no others."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class _Ask(Body):
    client_id: ClientId
    musician: Annotated[Id | None, Field(description="Who asks; null is the mix's only musician.")] = None


class LevelAsk(_Ask):
    """More or less of a source, a group, or the whole mix, by a figure or by a named amount."""

    kind: Literal["level"]
    source: SourceOrMix = None
    change_db: ChangeDb | None = None
    amount: Amount | None = None
    direction: Literal["more", "less"] | None = None

    @model_validator(mode="after")
    def _says_how_much_once(self) -> Self:
        is_figure = self.change_db is not None and self.amount is None and self.direction is None
        is_named = self.change_db is None and self.amount is not None and self.direction is not None
        if not (is_figure or is_named):
            raise ValueError("either change_db, or amount with direction")
        return self


class PanAsk(_Ask):
    """A source further left or right."""

    kind: Literal["pan"]
    source: Id | None = None
    change_pan: ChangePan


class InOrOutAsk(_Ask):
    """A source put into the mix, or taken out."""

    kind: Literal["in", "out"]
    source: Id | None = None


class SoundAsk(_Ask):
    """What is wrong with the sound, in words."""

    kind: Literal["sound"]
    source: SourceOrMix = None
    words: str


class CallAsk(_Ask):
    """An urgent call to the desk."""

    kind: Literal["call"]
    source: Annotated[None, Field(description="A call is about the whole mix.")] = None
    call: Call


Ask = LevelAsk | PanAsk | InOrOutAsk | SoundAsk | CallAsk


class AskBody(RootModel[Annotated[Ask, Field(discriminator="kind")]]):
    """What a musician asks."""


class OnceBody(Body):
    """Nothing but under which id it is sent."""

    client_id: ClientId | None = None


class DecisionBody(Body):
    """How the desk answers requests of one row; without a figure, done means the suggested move."""

    client_id: ClientId | None = None
    requests: Annotated[
        tuple[NamesRequest, ...],
        Field(max_length=_MOST_REQUESTS, description="Exactly those that the desk was showing, of one row."),
    ]
    outcome: Outcome
    done_db: DoneDb | None = None
    done_pan: ChangePan | None = None
    level_db: LevelDb | None = None
    way: Annotated[
        Way | None,
        Field(description="Whether the output went against a raise, or the rest went down instead of it."),
    ] = None
    reason: Annotated[
        str | None, Field(description="A reason's code or free words; needed when not done.")
    ] = None

    @model_validator(mode="after")
    def _says_what_was_done_once(self) -> Self:
        figures = [one for one in (self.done_db, self.done_pan, self.level_db) if one is not None]
        if len(figures) > 1:
            raise ValueError("only one of done_db, done_pan and level_db")
        if figures and self.outcome is not Outcome.DONE:
            raise ValueError("a figure belongs to done only")
        return self


class CorrectionBody(Body):
    """What stands on the desk; what is left out stays, and the same figure again confirms it."""

    client_id: ClientId | None = None
    source: SourceOrMix
    level_db: LevelDb | None = None
    pan: Pan | None = None
    is_on: Annotated[bool, Field(strict=True)] | None = None


class HistoryQuery(BaseModel):
    """Which part of a history is wanted."""

    after: Annotated[
        int, Field(ge=0, le=2**53, description="Only entries behind this revision; 0 is all of them.")
    ] = 0
