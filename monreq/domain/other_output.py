"""A mix that comes from another output than before: it starts low, and what was planned on its old levels is gone."""

from collections.abc import Iterator
from dataclasses import replace

from monreq.domain.band import KeptMix
from monreq.domain.carry_conversion import Levels, Task, convert
from monreq.domain.carry_events import LevelsPutLow
from monreq.domain.decide_songs import without_moves
from monreq.domain.events import Event, SendRemoved
from monreq.domain.setup import Mix, Setting, Source, suits
from monreq.domain.show import Show
from monreq.domain.stage_pans import pans_from_stage


def nothing_said_of_packs(before: Mix, after: Mix) -> Mix:
    """Return a mix's facts without what was said of other packs: it is asked again."""
    if before.output is after.output:
        return after
    return replace(after, has_limiter=None, is_pack_low=None)


def leaking(show: Show, mix: Mix) -> list[Source]:
    """Return the sources that were in a mix as it was heard before, and would leak from it as it is from now on."""
    sends = show.levels[mix.id].sends
    was = show.mixes[mix.id]
    return [
        one for one in show.sources.values() if one.id in sends and suits(was, one) and not suits(mix, one)
    ]


def begun_low(show: Show, mix: Mix) -> Iterator[Event]:
    """Yield what takes off a mix what would leak, and puts the rest low; its balance is kept."""
    gone = [one.id for one in leaking(show, mix)]
    yield from (SendRemoved(mix.id, one) for one in gone)
    levels = show.levels[mix.id]
    sends = {one: position.setting for one, position in levels.sends.items() if one not in gone}
    stood = KeptMix("", mix.id, "", levels.output.setting, sends, show.at_ms)
    after = replace(show, mixes={**show.mixes, mix.id: mix})
    task = Task(
        stood,
        show.mixes[mix.id],
        mix,
        show.sources,
        pans_from_stage(after, mix.id),
        show.settings,
        is_same_evening=True,
    )
    low = convert(task, Levels(takes_click=True))
    settings: list[tuple[str | None, Setting]] = [(None, low.output), *low.sends.items()]
    yield LevelsPutLow(mix.id, tuple(settings))


def without_song_moves(show: Show, mix: str) -> tuple[Event, ...]:
    """Drop the moves planned for a song if one of them waits in a mix whose levels they were reckoned from."""
    is_planned = any(one.is_for_song and one.key.mix == mix for one in show.open_requests.values())
    return without_moves(show) if is_planned else ()
