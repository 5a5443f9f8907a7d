"""Learning what holds: what stood in a wedge through a whole song, and nobody called that it squeals.

What stood a song stood it together: each entry is one song's, how far everything that can ring was turned up at least, of
what was on all through. Mics that stood songs one by one are not known to stand one together.
"""

from monreq.domain import events as e
from monreq.domain import song_events as so
from monreq.domain.ears import turned_up
from monreq.domain.requests import Call
from monreq.domain.setup import Output, SourceKind
from monreq.domain.show import Held, Show, with_past, without

SHORTEST_SONG_MS = 60_000  # chosen: what was played for less says nothing of what holds
MOST_HELD = 8  # chosen: songs differ in who plays and sings; more of them are seldom apart


def held(before: Show, show: Show, recorded: e.Recorded) -> Show:
    """Return a show with what held brought up to date.

    Args:
        before: The show before the event.
        show: The show after it, but for this.
        recorded: The event.
    """
    match recorded.event:
        case so.SongBegun():
            return with_past(show, held_so_far={mix: _turned_up(show, mix) for mix in show.levels})
        case so.GapBegun():
            return _song_over(before, show, recorded)
        case so.StretchTakenBack():
            return with_past(show, held_so_far={})
        case e.ChangeAsked(mix=mix, call=Call.SQUEAL):
            return _squealed(show, mix)
        case _:
            return _still_there(before, _held_through(before, show))


def _song_over(before: Show, show: Show, recorded: e.Recorded) -> Show:
    began_ms = before.phase_at_ms
    is_song = before.is_running and began_ms is not None
    if not is_song or recorded.at_ms - (began_ms or 0) < SHORTEST_SONG_MS:
        return with_past(show, held_so_far={})
    learned = {
        mix: _with(show.past.held.get(mix, ()), new) for mix, new in show.past.held_so_far.items() if new
    }
    return with_past(show, held={**show.past.held, **learned}, held_so_far={})


def _with(known: tuple[Held, ...], new: Held) -> tuple[Held, ...]:
    """Add what held in a song; what is known by another song already is left out."""
    if any(_covers(one, new) for one in known):
        return known
    return (*(one for one in known if not _covers(new, one)), new)[-MOST_HELD:]


def _covers(one: Held, other: Held) -> bool:
    return all(source in one and one[source] >= level for source, level in other.items())


def _squealed(show: Show, mix: str) -> Show:
    """Forget of a wedge that squeals what the song brought so far, and what comes near how it stands now."""
    now, reserve = _turned_up(show, mix), show.settings.reserve_tenths
    far = tuple(
        one
        for one in show.past.held.get(mix, ())
        if all(level <= now[source] - reserve for source, level in one.items() if source in now)
    )
    return with_past(
        show, held={**show.past.held, mix: far}, held_so_far=without(show.past.held_so_far, [mix])
    )


def _held_through(before: Show, show: Show) -> Show:
    """Keep the least of what is on all through a song."""
    if not show.past.held_so_far or (before.levels is show.levels and before.gains is show.gains):
        return show
    moved = [
        mix
        for mix in show.past.held_so_far
        if before.gains is not show.gains or before.levels.get(mix) is not show.levels.get(mix)
    ]
    least = {mix: _least(show.past.held_so_far[mix], _turned_up(show, mix)) for mix in moved}
    return with_past(show, held_so_far={**show.past.held_so_far, **least})


def _least(one: Held, now: Held) -> Held:
    return {source: min(level, now[source]) for source, level in one.items() if source in now}


def _still_there(before: Show, show: Show) -> Show:
    """Forget what held of what is gone, is no wedge any more, or brings more of a mic than it did."""
    if before.mixes is not show.mixes:
        gone = [mix for mix in show.past.held if not _is_wedge(show, mix)]
        show = with_past(show, held=without(show.past.held, gone)) if gone else show
    if before.sources is not show.sources and before.sources.keys() - show.sources.keys():
        show = _without(show, before.sources.keys() - show.sources.keys())
    if before.gains is not show.gains and _a_mic_was_raised(before, show):
        show = _without(show, {one.id for one in show.sources.values() if one.kind is SourceKind.RETURN})
    return show


def _a_mic_was_raised(before: Show, show: Show) -> bool:
    return any(
        show.gains.get(one.id, 0) > before.gains.get(one.id, 0)
        for one in show.sources.values()
        if one.kind is SourceKind.OPEN_MIC
    )


def _without(show: Show, sources: set[str]) -> Show:
    kept = {mix: tuple(without(one, sources) for one in known) for mix, known in show.past.held.items()}
    so_far = {mix: without(one, sources) for mix, one in show.past.held_so_far.items()}
    return with_past(show, held=kept, held_so_far=so_far)


def _turned_up(show: Show, mix: str) -> Held:
    """Return how far all that can ring and is on is turned up in a wedge; nothing elsewhere. [0.1 dB]."""
    levels = show.levels.get(mix)
    if levels is None or not _is_wedge(show, mix) or not levels.output.setting.is_on:
        return {}
    return turned_up(show.sources, levels, show.gains)


def _is_wedge(show: Show, mix: str) -> bool:
    return mix in show.mixes and show.mixes[mix].output is Output.WEDGE
