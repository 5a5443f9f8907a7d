"""The moves of the song that comes next: planned from what the show's band kept for it."""

from monreq.domain import song_commands as so
from monreq.domain.band import Band
from monreq.domain.band_refusals import UnknownBand
from monreq.domain.refusals import Refusal
from monreq.domain.show import Show
from monreq.domain.song_changes import song_changes
from monreq.services.bands import Bands
from monreq.services.shows import Shows


def plan_moves(bands: Bands, show: Show, song: str) -> so.PlanSongMoves:
    """Return the command that puts a song's moves into the queue; a show without a band has kept nothing for it."""
    try:
        band = bands.get(show.band) if show.band else Band("", "")
    except UnknownBand:
        band = Band("", "")
    return so.PlanSongMoves(song, *song_changes(band, show, song))


def plan_what_follows(shows: Shows, bands: Bands, show_id: str) -> None:
    """Plan the moves of the song that comes next, unless they are planned.

    They are suggestions: where another desk was quicker, so that they cannot be planned any more, nothing is lost.
    """
    show = shows.state(show_id)
    if show.song is None or show.waiting_song_plan is not None:
        return
    try:
        shows.submit(show_id, plan_moves(bands, show, show.song))
    except Refusal:
        return
