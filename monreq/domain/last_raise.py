"""The last raise that still stands in a wedge: the first thing to take back where it squeals there.

Only where that is enough, and likely to be what did it: at least as far as the output would else go down at once, and made
within the last song. A touch of an hour ago is neither.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from monreq.domain.requests import Move
from monreq.domain.setup import Output, Setting
from monreq.domain.show import Show


@dataclass(frozen=True, slots=True)
class LastRaise:
    """What was raised last, and where it goes when that is taken back.

    Attributes:
        source: None is the output.
        now: Where it stands.
        back_to_tenths: Where it stood before that raise; None: it was not in the mix. [0.1 dB]
    """

    source: str | None
    now: Setting
    back_to_tenths: int | None


def last_raise(show: Show, mix: str) -> LastRaise | None:
    """Return the latest raise that the desk recorded in a wedge and that still stands, as far as it stands; None if none is.

    Only what can ring counts: an open mic, a return, the output. What stood at the soundcheck mark was quiet then, so
    that only raises since the mark are looked at. Corrections from the desk are no raises: nobody knows when the hand
    made them.

    Raises:
        UnknownMix: There is none of this id.
    """
    if show.mix(mix).output is not Output.WEDGE:
        return None
    last = next(_standing_raises(show, mix), None)
    return last if last is not None and _is_enough(show, last) else None


def _is_enough(show: Show, last: LastRaise) -> bool:
    if last.back_to_tenths is None:
        return True
    return last.back_to_tenths - last.now.level_tenths <= show.settings.squeal_tenths


def _standing_raises(show: Show, mix: str) -> Iterator[LastRaise]:
    song_ms = (show.settings.song_s + show.settings.gap_s) * 1000
    for decision in reversed(list(show.decisions.values())):
        if decision.at_ms < max(show.marked_at_ms or 0, show.at_ms - song_ms):
            return
        if decision.is_undone:
            continue
        for move in (decision.move, *decision.also):
            if move is not None and move.mix == mix and _can_ring(show, move.source):
                yield from _still_up(show, move)


def _can_ring(show: Show, source: str | None) -> bool:
    return source is None or (source in show.sources and show.sources[source].can_ring)


def _still_up(show: Show, move: Move) -> Iterator[LastRaise]:
    position = show.levels[move.mix].at(move.source)
    if position is None or not position.setting.is_on:
        return
    now, raised = position.setting, move.after.level_tenths - move.before.level_tenths
    if move.after.is_on and not move.before.is_on:
        yield LastRaise(move.source, now, None)
    elif raised > 0 and now.level_tenths > move.before.level_tenths:
        back_to = max(move.before.level_tenths, now.level_tenths - raised)
        yield LastRaise(move.source, now, back_to)
