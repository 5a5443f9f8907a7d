"""Commands about the band of a show and what is kept of it; see `commands` for their manner."""

from dataclasses import dataclass

from monreq.domain.events import DESK
from monreq.domain.setup import Setting


@dataclass(frozen=True, slots=True)
class ChooseBand:
    """Say which stored band plays, by its id."""

    band: str
    by: str = DESK


@dataclass(frozen=True, slots=True)
class AskToKeep:
    """Ask the musicians of mixes whether to keep them so for the next show; an earlier question is replaced.

    Attributes:
        mixes: By id, with the settings to keep by source; None is the output.
        lowered: By how much lower than it stood the output among these settings is, by mix. [0.1 dB]
    """

    mixes: tuple[tuple[str, tuple[tuple[str | None, Setting], ...]], ...]
    lowered: tuple[tuple[str, int], ...] = ()
    by: str = DESK


@dataclass(frozen=True, slots=True)
class AnswerKeep:
    """Say as a musician whether one's mix is to be kept as the desk asked; None is the mix's only musician."""

    mix: str
    question: str
    musician: str | None
    agrees: bool
    by: str | None = None


@dataclass(frozen=True, slots=True)
class NoteKept:
    """Say that mixes were kept in the band, so that phones and history show it."""

    mixes: tuple[str, ...]
    name: str
    song: str | None = None
    by: str = DESK


BandCommand = ChooseBand | AskToKeep | AnswerKeep | NoteKept
