"""Events about the set list, and about songs that begin and end; see `events` for their manner."""

from dataclasses import dataclass

from monreq.domain.songs import NotPlanned, Song


@dataclass(frozen=True, slots=True)
class SetListPut:
    """The set list was replaced; `song` is the one that runs or comes next from now on."""

    songs: tuple[Song, ...]
    song: str | None


@dataclass(frozen=True, slots=True)
class SongChosen:
    """Another song comes next, or is the one that runs."""

    song: str | None


@dataclass(frozen=True, slots=True)
class SongBegun:
    """A song runs from now on."""


@dataclass(frozen=True, slots=True)
class GapBegun:
    """The song is over; `song` comes next."""

    song: str | None


@dataclass(frozen=True, slots=True)
class StretchTakenBack:
    """The song, or the gap, had not begun: what was before goes on."""


@dataclass(frozen=True, slots=True)
class SongMovesPlanned:
    """Moves for a song were planned; their requests follow, and `not_planned` is told beside them."""

    plan: str
    song: str
    not_planned: tuple[NotPlanned, ...] = ()


@dataclass(frozen=True, slots=True)
class SongMovesDropped:
    """The desk goes on without the moves planned for a song; those not done were withdrawn."""

    plan: str


SongEvent = (
    SetListPut | SongChosen | SongBegun | GapBegun | StretchTakenBack | SongMovesPlanned | SongMovesDropped
)
