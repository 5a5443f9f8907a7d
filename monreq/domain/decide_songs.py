"""What the desk says of songs: the set list, which one it is, that it begins and ends, and the moves it asks for."""

from monreq.domain import song_commands as c
from monreq.domain.events import DESK, ChangeAsked, Event, RequestWithdrawn
from monreq.domain.show import Show
from monreq.domain.song_events import (
    GapBegun,
    SetListPut,
    SongBegun,
    SongChosen,
    SongMovesDropped,
    SongMovesPlanned,
    StretchTakenBack,
)
from monreq.domain.song_refusals import NothingToTakeBack, NotThisSong, UnknownSong, UnknownSongPlan
from monreq.domain.song_targets import moves_for
from monreq.domain.songs import SONG_PLAN, Song, after, check_set_list
from monreq.domain.texts import checked_id, clean_name


def put_set_list(show: Show, command: c.PutSetList) -> tuple[Event, ...]:
    """Replace the set list. The song that runs or comes next stays so if it is still there."""
    for song in command.songs:
        checked_id(song.id)
    songs = tuple(Song(song.id, clean_name(song.name)) for song in command.songs)
    check_set_list(songs)
    ids = [song.id for song in songs]
    first = None if show.is_running or not ids else ids[0]
    in_play = show.song if show.song in ids else first
    return (SetListPut(songs, in_play), *_dropped_unless_for(show, in_play))


def choose_song(show: Show, command: c.ChooseSong) -> tuple[Event, ...]:
    """Say which song it is."""
    if command.song is not None and command.song not in show.songs:
        raise UnknownSong
    if command.song == show.song:
        return ()
    return (SongChosen(command.song), *_dropped_unless_for(show, command.song))


def begin_song(show: Show, _command: c.BeginSong) -> tuple[Event, ...]:
    """Say that a song runs; said twice, by two desks, it began once."""
    return () if show.is_running else (SongBegun(),)


def begin_gap(show: Show, _command: c.BeginGap) -> tuple[Event, ...]:
    """Say that the song is over; said twice, it ended once."""
    if not show.is_running:
        return ()
    song = after(show.songs, show.song)
    return (GapBegun(song), *_dropped_unless_for(show, song))


def take_back_stretch(show: Show, _command: c.TakeBackStretch) -> tuple[Event, ...]:
    """Go on with what was before the song, or the gap, began."""
    if show.stretch_before is None:
        raise NothingToTakeBack
    return (StretchTakenBack(), *_dropped_unless_for(show, show.stretch_before.song))


def plan_song_moves(show: Show, command: c.PlanSongMoves) -> tuple[Event, ...]:
    """Ask for what a song needs: each move a request of the desk, all of one group."""
    if command.song not in show.songs:
        raise UnknownSong
    if command.song != show.song:
        raise NotThisSong
    gone = without_moves(show)
    plan = f"{SONG_PLAN}{show.revision + len(gone) + 1}"
    moves = moves_for(show, command.changes)
    asks = tuple(
        ChangeAsked(
            f"r{show.revision + place}",
            move.key.mix,
            move.key.source,
            move.key.kind,
            DESK,
            move.change,
            group=plan,
            target=move.target,
        )
        for place, move in enumerate(moves, start=len(gone) + 2)
    )
    if not asks and not command.not_planned:
        return gone
    return (*gone, SongMovesPlanned(plan, command.song, command.not_planned), *asks)


def drop_song_moves(show: Show, command: c.DropSongMoves) -> tuple[Event, ...]:
    """Go on without a song's moves: those not done leave the queue, those done stay done."""
    if show.song_plan is None or show.song_plan.id != command.plan:
        raise UnknownSongPlan
    return without_moves(show)


def _dropped_unless_for(show: Show, song: str | None) -> tuple[Event, ...]:
    plan = show.song_plan
    return () if plan is None or plan.song == song else without_moves(show)


def without_moves(show: Show) -> tuple[Event, ...]:
    """Return what goes on without the moves planned for a song: those not done leave the queue."""
    plan = show.song_plan
    if plan is None or plan.is_dropped:
        return ()
    waiting = [one for one in show.open_requests.values() if one.group == plan.id]
    return (SongMovesDropped(plan.id), *(RequestWithdrawn(one.key.mix, one.id) for one in waiting))
