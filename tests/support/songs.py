"""Songs on a small stage: planned, worked, and what waits for them."""

from monreq.domain import song_commands as so
from monreq.domain.requests import RowKey
from monreq.domain.songs import Song
from tests.support.stage import Stage

SONGS = tuple(Song(one, one.title()) for one in ("blue", "road", "train"))
LOUD_VOICE = (so.SongChange("front", "voice", 40),)


def plan(stage: Stage, song: str, changes: tuple[so.SongChange, ...] = ()) -> None:
    if stage.show.song != song:
        stage.do(so.ChooseSong(song))
    stage.do(so.PlanSongMoves(song, changes))


def level(stage: Stage, mix: str = "front", source: str = "voice") -> int:
    return stage.show.position(mix, source).setting.level_tenths


def work_all(stage: Stage) -> None:
    """Enter each row with the level that the song wants, whatever is suggested in one trip."""
    for one in stage.rows:
        stage.done(*(request.id for request in one.requests), change=one.asked)


def waiting(stage: Stage) -> dict[RowKey, int | None]:
    return {one.key: one.asked for one in stage.rows}
