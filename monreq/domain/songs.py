"""Songs of a set list, the stretch that a show is in, and the moves that a song asks for."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from monreq.domain.song_refusals import SongTwice, TooManySongs
from monreq.domain.texts import clean_name

SONG_PLAN = "s"
"""How the ids of moves planned for a song begin; a preamp change's begin otherwise."""

MOST_SONGS = 200  # chosen: more than any evening plays


@dataclass(frozen=True, slots=True)
class Song:
    """A song that mixes can be kept for."""

    id: str
    name: str


@dataclass(frozen=True, slots=True)
class Stretch:
    """A song that runs, or the gap before one.

    Attributes:
        song: The one that runs or comes next; None where nobody said which.
        is_running: Whether it runs; else this is a gap, or before the first song.
        at_ms: When it began; None before anybody said that a song runs. [ms since 1970, UTC]
        revision: Of the event that began it: of one millisecond there may be several.
    """

    song: str | None = None
    is_running: bool = False
    at_ms: int | None = None
    revision: int = 0


class WhyNot(StrEnum):
    """Why something that was kept for a song is not planned."""

    MIX_NOT_HERE = "mix_not_here"
    NOTHING_BESIDE = "nothing_beside"
    HEARD_OTHERWISE = "heard_otherwise"
    SOURCE_NOT_HERE = "source_not_here"
    NOT_IN_MIX = "not_in_mix"
    NOT_BESIDE = "not_beside"
    LEAKS = "leaks"


@dataclass(frozen=True, slots=True)
class NotPlanned:
    """What was kept for a song and is not planned.

    Attributes:
        mix: Its name.
        source: Its name; empty where none of the mix is planned.
    """

    why: WhyNot
    mix: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class SongPlan:
    """Moves that were planned for one song: requests of this group.

    Attributes:
        is_dropped: Whether the desk goes on without them.
        not_planned: What the desk is told that it has to do without.
    """

    id: str
    song: str
    is_dropped: bool = False
    not_planned: tuple[NotPlanned, ...] = ()


def songs_of_lines(text: str, known: Iterable[Song], new_id: Callable[[], str]) -> tuple[Song, ...]:
    """Read a pasted set list, a song a line; a song that was known by its name keeps its id, and what was kept for it.

    Raises:
        SongTwice: Two lines say the same.
        TooManySongs: Nobody plays so many.
        NameRequired, TextTooLong: A line is no name.
    """
    ids = {song.name.casefold(): song.id for song in known}
    names = [clean_name(line) for line in text.splitlines() if line.strip()]
    songs = tuple(Song(ids.get(name.casefold()) or new_id(), name) for name in names)
    check_set_list(songs)
    return songs


def check_set_list(songs: tuple[Song, ...]) -> None:
    """Refuse a set list that names a song twice or has too many."""
    if len(songs) > MOST_SONGS:
        raise TooManySongs
    if len({song.id for song in songs}) < len(songs) or len({song.name.casefold() for song in songs}) < len(
        songs
    ):
        raise SongTwice


def after(songs: Mapping[str, Song], song: str | None) -> str | None:
    """Return the song that follows another in the set list; None at its end."""
    return beside(songs, song, 1)


def beside(songs: Mapping[str, Song], song: str | None, step: int) -> str | None:
    """Return the song so many places further on in the set list; None beyond its ends, or beside no song."""
    listed = list(songs)
    if song is None or song not in songs:
        return None
    place = listed.index(song) + step
    return listed[place] if 0 <= place < len(listed) else None
