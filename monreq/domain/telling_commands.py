"""Commands of what desk and phones tell one another besides requests; see `commands` for their manner."""

from dataclasses import dataclass

from monreq.domain.events import DESK
from monreq.domain.notes import Reply


@dataclass(frozen=True, slots=True)
class SayCallsSeen:
    """Say that urgent calls of one mix were seen. `desk` is the name of the desk that says so; may be empty."""

    requests: tuple[str, ...]
    desk: str = ""
    by: str = DESK


@dataclass(frozen=True, slots=True)
class TakeBackRaise:
    """Answer calls of one mix by what the hand did: a send, or the output (None), put back down.

    Attributes:
        requests: Exactly those that the desk was showing.
        set_to_tenths: Where it stands now; None: taken out of the mix. [0.1 dB]
        desk: The name of the desk that did it; may be empty.
    """

    requests: tuple[str, ...]
    source: str | None
    set_to_tenths: int | None
    desk: str = ""
    by: str = DESK


@dataclass(frozen=True, slots=True)
class SendNote:
    """Send a note to the phones of some mixes; none named means all."""

    words: str
    mixes: tuple[str, ...] = ()
    by: str = DESK


@dataclass(frozen=True, slots=True)
class AnswerNote:
    """Say something to a note, for a mix; the musician None is its only one."""

    note: str
    mix: str
    musician: str | None
    reply: Reply
    by: str | None = None


@dataclass(frozen=True, slots=True)
class TakeNoteBack:
    """Take a note back from all phones."""

    note: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class BeginLineCheck:
    """Ask every mix that has a source on whether it hears it; None asks all mixes about whatever sounds now."""

    source: str | None = None
    by: str = DESK


@dataclass(frozen=True, slots=True)
class AnswerLineCheck:
    """Say whether a mix hears what a line check asks for; the musician None is its only one."""

    check: str
    mix: str
    musician: str | None
    is_heard: bool
    by: str | None = None


@dataclass(frozen=True, slots=True)
class EndLineCheck:
    """End a line check: phones are not asked any more, what they said stays to be read."""

    check: str
    by: str = DESK


TellingCommand = (
    SayCallsSeen
    | TakeBackRaise
    | SendNote
    | AnswerNote
    | TakeNoteBack
    | BeginLineCheck
    | AnswerLineCheck
    | EndLineCheck
)
