"""What kept mixes differ in, from one another and from what stands now, and bringing one back as work for a hand."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from monreq.domain.band import Band, KeptMix
from monreq.domain.carry_conversion import Levels, Task, convert
from monreq.domain.history import Difference
from monreq.domain.keeping import Settings, kept_settings, standing_settings
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.domain.stage_pans import pans_from_stage


@dataclass(frozen=True, slots=True)
class ToSet:
    """What a hand sets on the desk to bring a kept mix back.

    Attributes:
        moves: What stands otherwise now, the output first.
        not_here: Kept sends whose source is not in this mix, or would leak from a wedge: left as they are.
        not_kept: Sources of the mix that were not kept: they stay as they are.
        is_converted: Whether it was heard in another way when it was kept, or on packs of another evening, so that it
            starts low.
        raised: What goes up or in: of a wedge only what can ring, and the output (None).
    """

    moves: tuple[Difference, ...]
    not_here: tuple[str, ...]
    not_kept: tuple[str, ...]
    is_converted: bool
    raised: tuple[str | None, ...]


def differences(then: Settings, now: Settings, order: Iterable[str] = ()) -> tuple[Difference, ...]:
    """Return what differs: the output first, then the sends in the order of an input list, then the others."""
    places = dict.fromkeys((None, *order, *now, *then))
    return tuple(
        Difference(source, then.get(source), now.get(source))
        for source in places
        if then.get(source) != now.get(source)
    )


def latest_kept(band: Band, mix: str, song: str | None = None) -> KeptMix | None:
    """Return what was kept last of a mix, for a song or for the whole show; None if nothing was."""
    kept = [one for one in band.kept if (one.mix, one.song) == (mix, song)]
    return max(kept, key=lambda one: one.kept_at_ms) if kept else None


def since_kept(show: Show, mix: str, kept: KeptMix) -> tuple[Difference, ...]:
    """Return what stands otherwise now than when a mix was kept."""
    return differences(kept_settings(kept), standing_settings(show.levels[mix]), show.sources)


def to_set(show: Show, kept: KeptMix) -> ToSet:
    """Return what a hand sets to bring a kept mix back; nothing is taken as done by that.

    Raises:
        UnknownMix: The show does not have the mix.
    """
    mix = show.mix(kept.mix)
    now = standing_settings(show.levels[mix.id])
    before = _as_kept(mix, kept)
    sources = {one: show.sources[one] for one in kept.sends if one in show.sources and one in now}
    is_same = kept.show == show.id
    stood = as_gains_are(show, kept) if is_same else kept
    task = Task(stood, before, mix, sources, pans_from_stage(show, mix.id), show.settings, is_same)
    brought = convert(task, Levels())
    wanted = {**now, None: brought.output}
    wanted.update(brought.sends.items())
    moves = differences(now, wanted, show.sources)
    return ToSet(
        moves=moves,
        not_here=tuple(one for one in kept.sends if one not in brought.sends),
        not_kept=tuple(one for one in now if one is not None and one not in kept.sends),
        is_converted=task.starts_low,
        raised=tuple(one.source for one in moves if _goes_up(one) and _matters(show, mix, one.source)),
    )


def as_gains_are(show: Show, kept: KeptMix) -> KeptMix:
    """Return what was kept in this show as it would sound the same with the preamps as they are now."""
    turned = {one: kept.gains.get(one, 0) - show.gains.get(one, 0) for one in kept.sends}
    sends = {
        one: replace(setting, level_tenths=setting.level_tenths + turned[one])
        for one, setting in kept.sends.items()
    }
    return replace(kept, sends=sends, gains=show.gains)


def _goes_up(move: Difference) -> bool:
    if move.now is None or not move.now.is_on:
        return False
    return move.then is None or not move.then.is_on or move.now.level_tenths > move.then.level_tenths


def _matters(show: Show, mix: Mix, source: str | None) -> bool:
    return mix.output is Output.IN_EAR_PAIR or source is None or show.sources[source].can_ring


def _as_kept(mix: Mix, kept: KeptMix) -> Mix:
    """Return the mix as it was heard when it was kept; as now if nobody knows."""
    if kept.heard_as is None:
        return mix
    return replace(mix, output=kept.heard_as, is_fed_mono=kept.was_fed_mono)
