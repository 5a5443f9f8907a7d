"""What the guard has to know of the past: kept up after every event, whichever road it came by."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain import song_events as so
from monreq.domain.carry_events import LevelsCarried, LevelsPutLow
from monreq.domain.ears import at_ear_tenths
from monreq.domain.levels import Levels
from monreq.domain.requests import Call, Outcome
from monreq.domain.setup import Output
from monreq.domain.show import Disproof, Show, Stood

SHORTEST_SONG_MS = 60_000  # chosen: what was played for less says nothing of what holds
MS_PER_S = 1000

_DISPROVING = (Call.HURTS, Call.SQUEAL)


def track(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Return a show with what the guard goes by brought up to date.

    Args:
        before: The show before the event.
        show: The show after it, but for this.
        recorded: The event.
    """
    show = _began(before, show, recorded)
    show = _before_raises(before, show, recorded)
    show = _disproofs(before, show, recorded)
    show = _last_heard(before, show, recorded)
    return _held(before, show, recorded)


def _began(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Keep what the evening is measured from: how mixes were set by hand, until the first mark; then that mark."""
    if isinstance(recorded.event, e.SoundcheckMarked):
        return show if before.mark is not None else replace(show, began=_all_stood(show, recorded))
    began = {mix: stood for mix, stood in show.began.items() if _is_as_it_was(before, show, mix)}
    for mix, source in _set_by_hand(show, recorded.event):
        was = began.get(mix)
        began[mix] = _stood(show, mix, recorded) if was is None else _set_anew(show, was, mix, source)
    anew = [mix for mix in show.levels if mix not in began]
    began.update({mix: _stood(show, mix, recorded) for mix in anew})
    return show if began == show.began else replace(show, began=began)


def _set_anew(show: Show, was: Stood, mix: str, source: str | None) -> Stood:
    """Return how a mix began once a level was entered: after the mark only what is new, or lower than it was."""
    levels = show.levels[mix]
    position, old = levels.output if source is None else levels.sends[source], was.levels.at(source)
    if (
        old is not None
        and show.mark is not None
        and position.setting.level_tenths >= old.setting.level_tenths
    ):
        return was
    gains = was.gains if source is None else {**was.gains, source: show.gains.get(source, 0)}
    return replace(was, levels=was.levels.with_position(source, position), gains=gains)


def _is_as_it_was(before: Show, show: Show, mix: str) -> bool:
    """Whether a mix is still there, and heard in the same way."""
    was, now = before.mixes.get(mix), show.mixes.get(mix)
    return now is not None and (was is None or was.output is now.output)


def _set_by_hand(show: Show, event: e.Event) -> list[tuple[str, str | None]]:
    """Return what somebody put where; after the mark a correction says what is so, and begins nothing."""
    match event:
        case e.SendPut(mix=mix, source=source):
            return [(mix, source)]
        case LevelsCarried(mix=mix, settings=settings) | LevelsPutLow(mix=mix, settings=settings):
            return [(mix, source) for source, _ in settings]
        case e.LevelCorrected(move=move) if show.mark is None:
            return [(move.mix, move.source)]
        case _:
            return []


def _before_raises(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Keep how a mix stood before its first move of this song or gap; without songs, of the last half minute or so."""
    if isinstance(recorded.event, so.SongBegun | so.GapBegun):
        return replace(show, before_raises={}) if show.before_raises else show
    oldest_ms = recorded.at_ms - show.settings.gap_s * MS_PER_S if show.phase_at_ms is None else 0
    kept = {
        mix: one for mix, one in show.before_raises.items() if mix in show.mixes and one.at_ms >= oldest_ms
    }
    mix = _moved_mix(recorded.event)
    if mix is not None and mix not in kept:
        kept[mix] = _stood(before, mix, recorded)
    return show if kept == show.before_raises else replace(show, before_raises=kept)


def _moved_mix(event: e.Event) -> str | None:
    match event:
        case e.RequestsAnswered(mix=mix, outcome=Outcome.DONE) | e.DecisionUndone(mix=mix):
            return mix
        case _:
            return None


def _disproofs(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Keep what calls disprove: until they are taken back, or the mix comes out of another output."""
    event = recorded.event
    kept = {request: one for request, one in show.disproofs.items() if _is_as_it_was(before, show, one.mix)}
    match event:
        case e.ChangeAsked(request=request, mix=mix, call=call) if call in _DISPROVING:
            disproof = Disproof(mix, call, _stood(show, mix, recorded))
            if not any(_says_the_same(disproof, one) for one in kept.values()):
                kept[request] = disproof
        case e.RequestWithdrawn(request=request):
            kept.pop(request, None)
        case _:
            pass
    return show if kept == show.disproofs else replace(show, disproofs=kept)


def _says_the_same(one: Disproof, other: Disproof) -> bool:
    is_of_same_state = one.stood.levels is other.stood.levels and one.stood.gains is other.stood.gains
    return is_of_same_state and (one.mix, one.call) == (other.mix, other.call)


def _last_heard(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Keep what a send came to when it went out of a mix: it may come back as that. What is entered, nobody heard."""
    heard = {}
    entered = _set_by_hand(show, recorded.event)
    for mix, levels in _changed(before, show):
        was = before.levels.get(mix)
        for source, position in was.sends.items() if was else ():
            now = levels.sends.get(source)
            is_out = position.setting.is_on and now is not None and not now.setting.is_on
            if is_out and (mix, source) not in entered:
                heard[mix, source] = at_ear_tenths(before.sources, was, before.gains, source) if was else 0
    gone = [place for place in show.last_heard if show.levels.get(place[0]) is None]
    if not heard and not gone:
        return show
    kept = {place: at_ear for place, at_ear in show.last_heard.items() if place not in gone}
    return replace(show, last_heard={**kept, **heard})


def _held(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Learn what holds: what stood in a wedge through a whole song, and nobody called that it squeals."""
    match recorded.event:
        case so.SongBegun():
            return replace(show, held_so_far=_ringing(show, list(show.levels)))
        case so.GapBegun():
            began_ms = before.phase_at_ms
            is_song = before.is_running and began_ms is not None
            if not is_song or recorded.at_ms - (began_ms or 0) < SHORTEST_SONG_MS:
                return replace(show, held_so_far={})
            most = {one: max(low, show.held.get(one, low)) for one, low in show.held_so_far.items()}
            return replace(show, held={**show.held, **most}, held_so_far={})
        case so.StretchTakenBack():
            return replace(show, held_so_far={})
        case e.ChangeAsked(mix=mix, call=Call.SQUEAL):
            left = {place: low for place, low in show.held_so_far.items() if place[0] != mix}
            return replace(show, held_so_far=left)
        case _:
            return _held_through(before, show)


def _held_through(before: Show, show: Show) -> Show:
    """Keep the least of what is on all through a song."""
    moved = [mix for mix, _ in _changed(before, show)]
    if before.gains is not show.gains:
        moved = list(show.levels)
    if before.sources is not show.sources or before.mixes is not show.mixes:
        moved = list(show.levels)
    if not moved or not show.held_so_far:
        return _still_there(show)
    now = _ringing(show, moved)
    left = {
        place: min(low, now[place]) if place[0] in moved else low
        for place, low in show.held_so_far.items()
        if place[0] not in moved or place in now
    }
    return _still_there(replace(show, held_so_far=left))


def _still_there(show: Show) -> Show:
    """Forget what held in a mix that is no wedge any more."""
    gone = [place for place in show.held if not _is_wedge(show, place[0])]
    return replace(show, held={one: show.held[one] for one in show.held if one not in gone}) if gone else show


def _ringing(show: Show, mixes: list[str]) -> dict[tuple[str, str], int]:
    """Return what all that can ring and is on comes to in wedges. [0.1 dB]."""
    return {
        (mix, source): at_ear_tenths(show.sources, show.levels[mix], show.gains, source)
        for mix in mixes
        if _is_wedge(show, mix) and show.levels[mix].output.setting.is_on
        for source, position in show.levels[mix].sends.items()
        if position.setting.is_on and source in show.sources and show.sources[source].can_ring
    }


def _is_wedge(show: Show, mix: str) -> bool:
    return mix in show.mixes and show.mixes[mix].output is Output.WEDGE


def _changed(before: Show, show: Show) -> list[tuple[str, Levels]]:
    if before.levels is show.levels:
        return []
    return [(mix, levels) for mix, levels in show.levels.items() if before.levels.get(mix) is not levels]


def _all_stood(show: Show, recorded: e.Recorded) -> dict[str, Stood]:
    return {mix: _stood(show, mix, recorded) for mix in show.levels}


def _stood(show: Show, mix: str, recorded: e.Recorded) -> Stood:
    return Stood(show.levels[mix], show.gains, recorded.at_ms, recorded.revision)
