"""What happened in a show: past-tense records, never changed, only added. Their stored form is kept for ever."""

from dataclasses import dataclass

from monreq.domain import band_events as b
from monreq.domain import carry_events as k
from monreq.domain import group_events as g
from monreq.domain import hearing_events as h
from monreq.domain import measuring_events as m
from monreq.domain import song_events as so
from monreq.domain import stage_events as s
from monreq.domain import telling_events as t
from monreq.domain.requests import Call, Kind, Move, Outcome, Way
from monreq.domain.setup import Mix, Musician, Setting, Settings, Source

DESK = "desk"


@dataclass(frozen=True, slots=True)
class ShowOpened:
    """A show was begun; a demo says so in every page."""

    name: str
    is_demo: bool = False


@dataclass(frozen=True, slots=True)
class ShowRenamed:
    """The show got another name."""

    name: str


@dataclass(frozen=True, slots=True)
class ShowClosedForGood:
    """The evening is over: nothing is asked or answered any more."""


@dataclass(frozen=True, slots=True)
class SettingsChanged:
    """The engineer changed the show's settings."""

    settings: Settings


@dataclass(frozen=True, slots=True)
class SourcePut:
    """A source was added to the input list, or its facts were replaced."""

    source: Source


@dataclass(frozen=True, slots=True)
class SourceRemoved:
    """A source left the input list; the mixes that had it lost it just before."""

    source: str


@dataclass(frozen=True, slots=True)
class SourcesReordered:
    """The input list got another order; all ids are named."""

    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MusicianPut:
    """A musician was added or renamed."""

    musician: Musician


@dataclass(frozen=True, slots=True)
class MusicianRemoved:
    """A musician left the show and every mix."""

    musician: str


@dataclass(frozen=True, slots=True)
class MixPut:
    """A mix was added, or its facts were replaced."""

    mix: Mix


@dataclass(frozen=True, slots=True)
class MixRemoved:
    """A mix was taken out of the show."""

    mix: str


@dataclass(frozen=True, slots=True)
class SendPut:
    """A source was put on the list of a mix, or its start setting was entered; source None is the output."""

    mix: str
    source: str | None
    setting: Setting


@dataclass(frozen=True, slots=True)
class SendRemoved:
    """A source was taken off the list of a mix: its musicians do not see it."""

    mix: str
    source: str


@dataclass(frozen=True, slots=True)
class CodeReplaced:
    """The code of a mix (None: the desk's) was replaced: earlier ones open nothing."""

    mix: str | None


@dataclass(frozen=True, slots=True)
class ChangeAsked:
    """A musician asked for something.

    Attributes:
        amount: As in `Request`.
        client_id: The id that the asking page gave its submission; empty if none.
        group: As in `Request`.
        target: As in `Request`.
    """

    request: str
    mix: str
    source: str | None
    kind: Kind
    musician: str
    amount: int
    words: str = ""
    call: Call | None = None
    client_id: str = ""
    group: str = ""
    target: int | None = None


@dataclass(frozen=True, slots=True)
class RequestsCancelledOut:
    """Requests of one musician came to nothing together and left the queue."""

    mix: str
    requests: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RequestWithdrawn:
    """A musician or the desk took a request back, or what the desk had waiting is settled.

    Attributes:
        reason: A reason's code where something settled it; empty where somebody took it back.
    """

    mix: str
    request: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class RequestsAnswered:
    """The desk answered requests of one row. `asked` is their sum, in the unit of the kind.

    Attributes:
        is_typed: Whether a person typed where it went, and did not take what was suggested.
    """

    decision: str
    mix: str
    source: str | None
    kind: Kind
    requests: tuple[str, ...]
    outcome: Outcome
    asked: int
    move: Move | None
    reason: str = ""
    way: Way = Way.PLAIN
    also: tuple[Move, ...] = ()
    desk: str = ""
    is_typed: bool = False


@dataclass(frozen=True, slots=True)
class DecisionUndone:
    """A decision was taken back: its move was reversed and its requests wait again."""

    decision: str
    mix: str
    requests: tuple[str, ...]
    move: Move | None
    also: tuple[Move, ...] = ()


@dataclass(frozen=True, slots=True)
class LevelCorrected:
    """A level turned out different on the desk and was entered as it stands there."""

    move: Move


@dataclass(frozen=True, slots=True)
class SoundcheckMarked:
    """The state now is what the show is compared with."""


Event = (
    ShowOpened
    | ShowRenamed
    | ShowClosedForGood
    | SettingsChanged
    | SourcePut
    | SourceRemoved
    | SourcesReordered
    | MusicianPut
    | MusicianRemoved
    | MixPut
    | MixRemoved
    | SendPut
    | SendRemoved
    | CodeReplaced
    | ChangeAsked
    | RequestsCancelledOut
    | RequestWithdrawn
    | RequestsAnswered
    | DecisionUndone
    | LevelCorrected
    | SoundcheckMarked
    | k.CarryEvent
    | b.BandEvent
    | g.GroupEvent
    | h.HearingEvent
    | m.MeasuringEvent
    | s.StageEvent
    | t.TellingEvent
    | so.SongEvent
)


@dataclass(frozen=True, slots=True)
class Recorded:
    """An event in its place in the log.

    Attributes:
        revision: 1 for the first event of a show, without gaps.
        at_ms: When it was recorded. [ms since 1970, UTC]
        by: A musician's id, or `DESK`.
    """

    revision: int
    at_ms: int
    by: str
    event: Event
