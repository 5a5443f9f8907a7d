"""How events about songs change the state."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain import song_events as s
from monreq.domain.show import Show
from monreq.domain.song_targets import change_to
from monreq.domain.songs import SongPlan, Stretch


def set_list_put(show: Show, event: s.SetListPut, _: e.Recorded) -> Show:
    """Replace the set list."""
    songs = {song.id: song for song in event.songs}
    return replace(show, songs=songs, stretch=replace(show.stretch, song=event.song))


def song_chosen(show: Show, event: s.SongChosen, _: e.Recorded) -> Show:
    """Say which song it is; the stretch goes on."""
    return replace(show, stretch=replace(show.stretch, song=event.song))


def song_begun(show: Show, _event: s.SongBegun, recorded: e.Recorded) -> Show:
    """Begin a song; a gap that lay before it is measured."""
    began_ms = show.stretch.at_ms
    gaps = show.gaps_ms if began_ms is None else (*show.gaps_ms, recorded.at_ms - began_ms)
    began = Stretch(show.song, is_running=True, at_ms=recorded.at_ms, revision=recorded.revision)
    return replace(_with_stretch(show, began), gaps_ms=gaps)


def gap_begun(show: Show, event: s.GapBegun, recorded: e.Recorded) -> Show:
    """Begin a gap."""
    return _with_stretch(show, Stretch(event.song, at_ms=recorded.at_ms, revision=recorded.revision))


def stretch_taken_back(show: Show, _event: s.StretchTakenBack, _: e.Recorded) -> Show:
    """Go on with the stretch before; a gap that goes on is not measured yet."""
    before = show.stretch_before or Stretch()
    measured = show.is_running and before.at_ms is not None
    return replace(
        show,
        stretch=before,
        stretch_before=None,
        gaps_ms=show.gaps_ms[:-1] if measured else show.gaps_ms,
    )


def song_moves_planned(show: Show, event: s.SongMovesPlanned, _: e.Recorded) -> Show:
    """Plan moves for a song: their requests follow."""
    return replace(show, song_plan=SongPlan(event.plan, event.song, not_planned=event.not_planned))


def song_moves_dropped(show: Show, event: s.SongMovesDropped, _: e.Recorded) -> Show:
    """Go on without them."""
    plan = show.song_plan
    if plan is None or plan.id != event.plan:
        return show
    return replace(show, song_plan=replace(plan, is_dropped=True))


def towards_targets(show: Show, mix: str, source: str | None) -> Show:
    """Keep what a song asks of a place pointed at its target after something moved there.

    Where that went down, the song asks for no more than it did: it does not put back what somebody wanted less of.
    """
    renewed = {
        one.id: replace(one, amount=min(change_to(show, one.key, one.target), max(one.amount, 0)))
        for one in show.open_requests.values()
        if one.target is not None and (one.key.mix, one.key.source) == (mix, source)
    }
    return replace(show, open_requests={**show.open_requests, **renewed}) if renewed else show


def _with_stretch(show: Show, stretch: Stretch) -> Show:
    return replace(show, stretch=stretch, stretch_before=show.stretch)
