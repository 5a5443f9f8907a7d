"""What moves a song asks for: from where things stand to where they should, and back from what songs before left."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from monreq.domain.band import KeptMix
from monreq.domain.requests import Kind, RowKey
from monreq.domain.setup import Setting, Settings
from monreq.domain.show import Show
from monreq.domain.song_commands import Targets


@dataclass(frozen=True, slots=True)
class SongMove:
    """One move that a song asks for, in the unit of its row's kind.

    Attributes:
        target: Where it should end: [0.1 dB], [%], or 1 for in and 0 for out.
        change: How far that is from where things stand; for in and out +1 or -1.
    """

    key: RowKey
    target: int
    change: int


@dataclass(frozen=True, slots=True)
class _Left:
    """What songs left at one place.

    Attributes:
        home: Where it would stand without them.
        at: Where they left it.
    """

    home: int
    at: int


def targets_of(kept: Iterable[KeptMix], song: str) -> Targets:
    """Return where the mixes kept for a song put sends and outputs; of one mix the latest counts."""
    latest = {one.mix: one for one in kept if one.song == song}
    return tuple((one.mix, ((None, one.output), *one.sends.items())) for one in latest.values())


def moves_for(show: Show, targets: Targets) -> tuple[SongMove, ...]:
    """Return the moves that lead from where things stand to a song's targets, by mix; the rest stays as it is.

    Targets of mixes and sources that the show does not have are left out, and levels end where the desk's range does.
    """
    wanted = dict(_wanted(show, targets))
    back = {key: left.home for key, left in _left(show).items() if key not in wanted and _is_there(show, key)}
    ends = {**wanted, **back}
    by_mix = sorted(ends, key=lambda key: list(show.mixes).index(key.mix))
    moves = (SongMove(key, ends[key], change_to(show, key, ends[key])) for key in by_mix)
    return tuple(move for move in moves if move.change)


def change_to(show: Show, key: RowKey, target: int) -> int:
    """Return how far it is from where a place stands to a target, in the unit of the kind; 0 if it is not there."""
    position = show.levels[key.mix].at(key.source) if key.mix in show.levels else None
    if position is None:
        return 0
    return target - figure(key.kind, position.setting)


def figure(kind: Kind, setting: Setting) -> int:
    """Return a setting in the unit of a kind: [0.1 dB], [%], or 1 for on and 0 for off."""
    if kind is Kind.PAN:
        return setting.pan_percent
    return int(setting.is_on) if kind is Kind.IN_OUT else setting.level_tenths


def _wanted(show: Show, targets: Targets) -> Iterator[tuple[RowKey, int]]:
    """Yield every target of places that there are; of a source that is to be out only that."""
    for mix, settings in targets:
        for source, setting in settings:
            if mix not in show.mixes or show.levels[mix].at(source) is None:
                continue
            if source is not None:
                yield RowKey(mix, source, Kind.IN_OUT), int(setting.is_on)
            if setting.is_on:
                yield RowKey(mix, source, Kind.LEVEL), _in_range(setting.level_tenths, show.settings)
            if setting.is_on and source is not None and show.mixes[mix].is_stereo:
                yield RowKey(mix, source, Kind.PAN), setting.pan_percent


def _in_range(level: int, settings: Settings) -> int:
    return max(settings.lowest_tenths, min(settings.highest_tenths, level))


def _left(show: Show) -> Mapping[RowKey, _Left]:
    """Return what moves made for songs left, by row, from the decisions that stand."""
    left: dict[RowKey, _Left] = {}
    for decision in show.decisions.values():
        move, for_song = decision.move, decision.done_for_song
        if decision.is_undone or move is None or not for_song:
            continue
        before, at = figure(decision.key.kind, move.before), figure(decision.key.kind, move.after)
        known = left.get(decision.key)
        home = (known.home if known and known.at == before else before) + (at - before - for_song)
        left[decision.key] = _Left(home, at)
    return left


def _is_there(show: Show, key: RowKey) -> bool:
    """Whether a place is still in the show, and as songs left it."""
    position = show.levels[key.mix].at(key.source) if key.mix in show.mixes else None
    return position is not None and figure(key.kind, position.setting) == _left(show)[key].at
