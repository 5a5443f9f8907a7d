"""Commands about the set list, and about songs that begin and end; see `commands` for their manner."""

from dataclasses import dataclass

from monreq.domain.events import DESK
from monreq.domain.songs import NotPlanned, Song


@dataclass(frozen=True, slots=True)
class SongChange:
    """In what a song differs from the rest of the show, at one send or at the output (source None) of a mix.

    Attributes:
        level_tenths: How much higher it stands. [0.1 dB]
        pan_percent: How much further right. [%]
        is_on: Whether the source is in; None if as in the rest of the show.
    """

    mix: str
    source: str | None
    level_tenths: int = 0
    pan_percent: int = 0
    is_on: bool | None = None


@dataclass(frozen=True, slots=True)
class PutSetList:
    """Say which songs are played, in order; the list before is replaced."""

    songs: tuple[Song, ...]
    by: str = DESK


@dataclass(frozen=True, slots=True)
class ChooseSong:
    """Say which song comes next, or which it is that runs; None: none of the list."""

    song: str | None
    by: str = DESK


@dataclass(frozen=True, slots=True)
class BeginSong:
    """Say that a song runs."""

    by: str = DESK


@dataclass(frozen=True, slots=True)
class BeginGap:
    """Say that the song is over; the next of the set list comes next by itself."""

    by: str = DESK


@dataclass(frozen=True, slots=True)
class TakeBackStretch:
    """Say that the song, or the gap, did not begin: a key was mistaken."""

    by: str = DESK


@dataclass(frozen=True, slots=True)
class PlanSongMoves:
    """Put the moves for the song that comes next into the queue, in place of those planned before.

    What the songs before left, and this one does not name, is taken back where nobody moved it since.

    Attributes:
        not_planned: What cannot be planned, to be told.
    """

    song: str
    changes: tuple[SongChange, ...]
    not_planned: tuple[NotPlanned, ...] = ()
    by: str = DESK


@dataclass(frozen=True, slots=True)
class DropSongMoves:
    """Go on without the moves planned for a song."""

    plan: str
    by: str = DESK


SongCommand = PutSetList | ChooseSong | BeginSong | BeginGap | TakeBackStretch | PlanSongMoves | DropSongMoves
