"""Events of what desk and phones tell one another besides requests; see `events` for their manner."""

from dataclasses import dataclass

from monreq.domain.notes import Reply


@dataclass(frozen=True, slots=True)
class CallsSeen:
    """Somebody at a desk said that urgent calls were seen. `desk` is that desk's name; empty if it has none."""

    mix: str
    requests: tuple[str, ...]
    desk: str = ""


@dataclass(frozen=True, slots=True)
class NoteSent:
    """The desk sent a note to the phones of some mixes."""

    note: str
    words: str
    mixes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NoteAnswered:
    """A phone said something to a note."""

    note: str
    mix: str
    musician: str
    reply: Reply


@dataclass(frozen=True, slots=True)
class NoteTakenBack:
    """The desk took a note back."""

    note: str
    mixes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LineCheckBegun:
    """The desk asked mixes whether they hear a source, or whatever sounds now (None). It ends the one before."""

    check: str
    source: str | None
    mixes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LineHeard:
    """A phone said whether it hears what a line check asks for."""

    check: str
    mix: str
    musician: str
    is_heard: bool


@dataclass(frozen=True, slots=True)
class LineCheckEnded:
    """The desk ended a line check."""

    check: str
    mixes: tuple[str, ...]


TellingEvent = (
    CallsSeen | NoteSent | NoteAnswered | NoteTakenBack | LineCheckBegun | LineHeard | LineCheckEnded
)


def mixes_told(event: object) -> tuple[str, ...]:
    """Return the mixes whose phones show such an event; empty for every other."""
    match event:
        case CallsSeen(mix=mix) | NoteAnswered(mix=mix) | LineHeard(mix=mix):
            return (mix,)
        case (
            NoteSent(mixes=mixes)
            | NoteTakenBack(mixes=mixes)
            | LineCheckBegun(mixes=mixes)
            | LineCheckEnded(mixes=mixes)
        ):
            return mixes
        case _:
            return ()
