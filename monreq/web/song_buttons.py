"""What the desk's buttons say about songs, and the moves that follow when another song comes next."""

from collections.abc import Callable, Mapping

from flask import request

from monreq.domain import song_commands as so
from monreq.domain.commands import Command
from monreq.domain.song_refusals import UnknownSong
from monreq.services import song_moves
from monreq.web.access import admitted
from monreq.web.context import web
from monreq.web.typed_names import found

_LEADS_TO_A_SONG = (so.BeginGap, so.ChooseSong, so.TakeBackStretch)


def plan_what_follows(show_id: str, command: Command) -> None:
    """Plan the moves of the song that a command led to."""
    if isinstance(command, _LEADS_TO_A_SONG):
        song_moves.plan_what_follows(web().shows, web().bands, show_id)


def _choose_typed(_: str) -> so.ChooseSong:
    """Choose the song whose number or name was typed."""
    songs = web().shows.state(admitted(None).show_id).songs.values()
    song = found(request.form.get("typed-song", ""), [(one.name, one.id) for one in songs])
    if song is None:
        raise UnknownSong
    return so.ChooseSong(song)


def _plan_moves(song: str) -> so.PlanSongMoves:
    return song_moves.plan_moves(web().bands, web().shows.state(admitted(None).show_id), song)


SONG_BUTTONS: Mapping[str, Callable[[str], Command]] = {
    "begin_song": lambda _: so.BeginSong(),
    "begin_gap": lambda _: so.BeginGap(),
    "take_back_stretch": lambda _: so.TakeBackStretch(),
    "choose_song": so.ChooseSong,
    "choose_typed": _choose_typed,
    "drop_moves": so.DropSongMoves,
    "plan_moves": _plan_moves,
}
