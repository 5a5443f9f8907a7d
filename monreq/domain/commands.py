"""What a person can want done in a show: imperative, checked by `decide`, never stored."""

from dataclasses import dataclass

from monreq.domain.band_commands import BandCommand
from monreq.domain.carry_commands import CarryCommand
from monreq.domain.events import DESK
from monreq.domain.group_commands import GroupCommand
from monreq.domain.hearing_commands import HearingCommand
from monreq.domain.measuring_commands import MeasuringCommand
from monreq.domain.requests import Amount, Call, Outcome, Way
from monreq.domain.setup import Mix, Musician, Setting, Settings, Source
from monreq.domain.song_commands import SongCommand
from monreq.domain.stage_commands import StageCommand
from monreq.domain.telling_commands import TellingCommand
from monreq.domain.typed_commands import TypedCommand


@dataclass(frozen=True, slots=True)
class OpenShow:
    """Begin a show."""

    name: str
    is_demo: bool = False
    by: str = DESK


@dataclass(frozen=True, slots=True)
class RenameShow:
    """Give the show another name."""

    name: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class CloseShow:
    """End the show: what waits stays in the history, and nothing new is taken."""

    by: str = DESK


@dataclass(frozen=True, slots=True)
class ChangeSettings:
    """Change the show's settings."""

    settings: Settings
    by: str = DESK


@dataclass(frozen=True, slots=True)
class PutSource:
    """Add a source, or replace its facts. A new one joins the mixes it suits, off or low."""

    source: Source
    by: str = DESK


@dataclass(frozen=True, slots=True)
class RemoveSource:
    """Take a source off the input list; requests that wait for it are answered as not done."""

    source: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class ReorderSources:
    """Put the input list in this order; ids that are left out keep their order behind it."""

    sources: tuple[str, ...]
    by: str = DESK


@dataclass(frozen=True, slots=True)
class PutMusician:
    """Add a musician, or rename one."""

    musician: Musician
    by: str = DESK


@dataclass(frozen=True, slots=True)
class RemoveMusician:
    """Take a musician out; their waiting requests are answered as not done."""

    musician: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class PutMix:
    """Add a mix with start levels for the sources that suit it, or replace its facts."""

    mix: Mix
    by: str = DESK


@dataclass(frozen=True, slots=True)
class RemoveMix:
    """Take a mix out; requests that wait in it are answered as not done."""

    mix: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class PutSend:
    """Put a source on a mix's list, or enter its start setting; source None is the output."""

    mix: str
    source: str | None
    setting: Setting
    by: str = DESK


@dataclass(frozen=True, slots=True)
class RemoveSend:
    """Take a source off a mix's list."""

    mix: str
    source: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class ReplaceCode:
    """Make the code of a mix (None: the desk's) open nothing, and a new one open it."""

    mix: str | None
    by: str = DESK


@dataclass(frozen=True, slots=True)
class NamedAmount:
    """More or less, by one of the phone's amounts."""

    amount: Amount
    is_more: bool


@dataclass(frozen=True, slots=True)
class AskForLevel:
    """Ask for more or less of a source, or of the whole mix (None). A figure is in tenths of a dB."""

    mix: str
    musician: str | None
    source: str | None
    change: int | NamedAmount
    by: str | None = None
    client_id: str = ""


@dataclass(frozen=True, slots=True)
class AskForPan:
    """Ask for a source to be further left (negative) or right, in percent."""

    mix: str
    musician: str | None
    source: str | None
    change_percent: int
    by: str | None = None
    client_id: str = ""


@dataclass(frozen=True, slots=True)
class AskForInOrOut:
    """Ask for a source to be put into the mix or taken out."""

    mix: str
    musician: str | None
    source: str | None
    is_in: bool
    by: str | None = None
    client_id: str = ""


@dataclass(frozen=True, slots=True)
class AskAboutSound:
    """Say in words what is wrong with the sound of a source, or of the whole mix (None)."""

    mix: str
    musician: str | None
    source: str | None
    words: str
    by: str | None = None
    client_id: str = ""


@dataclass(frozen=True, slots=True)
class CallDesk:
    """Call the desk at once."""

    mix: str
    musician: str | None
    call: Call
    by: str | None = None
    client_id: str = ""


@dataclass(frozen=True, slots=True)
class Withdraw:
    """Take a request back; a mix, if named, must be the request's own."""

    request: str
    mix: str | None = None
    by: str | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """Answer requests of one row.

    Attributes:
        requests: Exactly those that the desk was showing.
        done: The change made, in the unit of the row's kind; None is the suggested move. For rest down it is how far
            the rest went down, and None is what the row asks for.
        read_tenths: The level read off the desk afterwards, instead of a change. [0.1 dB]
        reason: A reason's code or free words; required when not done.
        way: Whether the output went against a raise, or the rest went down instead of it; only for what was done.
        desk: The name of the desk that answers; may be empty.
        is_as_shown: Whether the figure is the suggestion that the desk was showing, and nobody typed it.
    """

    requests: tuple[str, ...]
    outcome: Outcome
    done: int | None = None
    read_tenths: int | None = None
    reason: str = ""
    way: Way = Way.PLAIN
    desk: str = ""
    is_as_shown: bool = False
    by: str = DESK


@dataclass(frozen=True, slots=True)
class Undo:
    """Take a decision back."""

    decision: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class CorrectLevel:
    """Enter what stands on the desk; what is None is left. Source None is the output."""

    mix: str
    source: str | None
    level_tenths: int | None = None
    pan_percent: int | None = None
    is_on: bool | None = None
    by: str = DESK


@dataclass(frozen=True, slots=True)
class EnterSettings:
    """Enter several settings of one mix as they stand on the desk; the source None is the output.

    Before the soundcheck mark they are start settings, after it corrections. What is as it was is left alone.
    """

    mix: str
    settings: tuple[tuple[str | None, Setting], ...]
    by: str = DESK


@dataclass(frozen=True, slots=True)
class MarkSoundcheck:
    """Set the soundcheck mark: from now on the show is compared with this moment."""

    by: str = DESK


Ask = AskForLevel | AskForPan | AskForInOrOut | AskAboutSound | CallDesk

ShowCommand = OpenShow | RenameShow | CloseShow | ChangeSettings | MarkSoundcheck
SetupCommand = PutSource | RemoveSource | ReorderSources | PutMusician | RemoveMusician | PutMix | RemoveMix
SendCommand = PutSend | RemoveSend | ReplaceCode
DeskCommand = Answer | Undo | CorrectLevel | EnterSettings

Command = (
    ShowCommand
    | SetupCommand
    | SendCommand
    | Ask
    | Withdraw
    | DeskCommand
    | CarryCommand
    | BandCommand
    | GroupCommand
    | HearingCommand
    | MeasuringCommand
    | StageCommand
    | TellingCommand
    | SongCommand
    | TypedCommand
)
