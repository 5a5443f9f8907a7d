"""What moves a song asks for: by its differences to the rest of the show, and back from what songs before left.

A song asks for a place to stand where it stood at the soundcheck mark, plus its difference; without a mark where it would
stand without songs, plus its difference. It never asks for more than its difference on top of what stands without songs,
so that it does not put back what somebody asked down since.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from monreq.domain.decisions import Decision
from monreq.domain.requests import Kind, RowKey
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from monreq.domain.song_commands import SongChange

MOST_PAN_PERCENT = 100


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
        at: Where it was moved last.
        is_as_left: Whether a song moved it last.
    """

    home: int
    at: int
    is_as_left: bool


Homes = Mapping[RowKey, _Left]


def moves_for(show: Show, changes: Iterable[SongChange]) -> tuple[SongMove, ...]:
    """Return the moves that lead from where things stand to where a song has them, by mix; the rest stays as it is.

    Changes of mixes and sources that the show does not have are left out, and levels end where the desk's range does.
    """
    left = _left(show)
    wanted = dict(_wanted(show, changes, left))
    back = {
        key: one.home
        for key, one in left.items()
        if key not in wanted and one.is_as_left and _stands(show, key) == one.at
    }
    ends = {**wanted, **back}
    by_mix = sorted(ends, key=lambda key: list(show.mixes).index(key.mix))
    moves = (SongMove(key, ends[key], change_to(show, key, ends[key])) for key in by_mix)
    return tuple(move for move in moves if move.change)


def change_to(show: Show, key: RowKey, target: int) -> int:
    """Return how far it is from where a place stands to a target, in the unit of the kind; 0 if it is not there."""
    now = _stands(show, key)
    return 0 if now is None else target - now


def figure(kind: Kind, setting: Setting) -> int:
    """Return a setting in the unit of a kind: [0.1 dB], [%], or 1 for on and 0 for off."""
    if kind is Kind.PAN:
        return setting.pan_percent
    return int(setting.is_on) if kind is Kind.IN_OUT else setting.level_tenths


def _stands(show: Show, key: RowKey) -> int | None:
    """Return where a place stands, in the unit of the kind; None if it is not there."""
    position = show.levels[key.mix].at(key.source) if key.mix in show.levels else None
    return None if position is None else figure(key.kind, position.setting)


def _wanted(show: Show, changes: Iterable[SongChange], left: Homes) -> Iterator[tuple[RowKey, int]]:
    """Yield every target of places that there are; of a source that is to be out only that."""
    for one in changes:
        if one.mix not in show.mixes or show.levels[one.mix].at(one.source) is None:
            continue
        if one.is_on is not None and one.source is not None:
            yield RowKey(one.mix, one.source, Kind.IN_OUT), int(one.is_on)
        if one.is_on is False:
            continue
        if one.level_tenths:
            key = RowKey(one.mix, one.source, Kind.LEVEL)
            yield key, show.settings.in_range(_target(show, key, one.level_tenths, left))
        if one.pan_percent and one.source is not None and show.mixes[one.mix].is_stereo:
            key = RowKey(one.mix, one.source, Kind.PAN)
            pan = _target(show, key, one.pan_percent, left)
            yield key, max(-MOST_PAN_PERCENT, min(MOST_PAN_PERCENT, pan))


def _target(show: Show, key: RowKey, change: int, left: Homes) -> int:
    """Return where a song has a place, in the unit of the kind."""
    now = figure(key.kind, show.position(key.mix, key.source).setting)
    known = left.get(key)
    home = known.home if known is not None and known.at == now else now
    marked = _marked(show, key)
    wanted = (home if marked is None else marked) + change
    return max(home + min(change, 0), min(home + max(change, 0), wanted))


def _marked(show: Show, key: RowKey) -> int | None:
    """Return where a place stood at the mark, its level as it would sound so with the preamps as now; None if nowhere."""
    levels = (show.mark or {}).get(key.mix)
    position = None if levels is None else levels.at(key.source)
    if position is None:
        return None
    at = figure(key.kind, position.setting)
    if key.kind is not Kind.LEVEL or key.source is None:
        return at
    return at + show.marked_gains.get(key.source, 0) - show.gains.get(key.source, 0)


def _left(show: Show) -> Homes:
    """Return what moves made for songs left, by row, from the decisions that stand."""
    left: dict[RowKey, _Left] = {}
    for decision in show.decisions.values():
        known = left.get(decision.key)
        if not decision.is_undone and (known is not None or decision.done_for_song):
            left.update(_left_by(decision, known))
    return left


def _left_by(decision: Decision, known: _Left | None) -> dict[RowKey, _Left]:
    """Return what one decision left of a place, after what those before did."""
    if decision.move is None:
        return {}
    before = figure(decision.key.kind, decision.move.before)
    at = figure(decision.key.kind, decision.move.after)
    for_song = decision.done_for_song or 0
    home = known.home if known is not None and known.at == before else before
    return {decision.key: _Left(home + (at - before - for_song), at, is_as_left=bool(for_song))}
