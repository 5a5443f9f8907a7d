"""What bounds a raise in a wedge so that it does not ring: readings, what held, and what squealed there.

Each bound is a caution whose figure is how far everything that is raised may go up from where it stands; below zero, it
stands too high already. Readings come from a person and hold for one place and one room: all of it is advice.
"""

import math
from collections.abc import Collection, Iterator
from dataclasses import replace

from monreq.domain import feedback
from monreq.domain.cautions import Basis, Caution, CautionCode
from monreq.domain.decibels import TENTHS_PER_DB, power_ratio, room_below, to_db
from monreq.domain.ears import path_tenths, turned_up
from monreq.domain.feedback import MarginCaution
from monreq.domain.gains import gain_raise, gains_to_come
from monreq.domain.levels import Levels
from monreq.domain.margins import FEWEST_TOGETHER, Margin, loop_gains, margin_of
from monreq.domain.requests import Call
from monreq.domain.setup import Output
from monreq.domain.show import Held, Show, Stood

NO_ROOM_TENTHS = -9999  # what stands beside a source takes up all there is
BOUNDLESS_TENTHS = 9999


def loop_limits(show: Show, mix: str, raised: Collection[str]) -> Iterator[Caution]:
    """Yield what bounds a raise of some sources of a wedge; nothing in an in-ear pair.

    Args:
        show: The show now.
        mix: The id of one of its mixes.
        raised: What goes up together, on or about to come in; what cannot ring among it is left out.
    """
    if show.mix(mix).output is not Output.WEDGE:
        return
    ringing = [source for source in raised if show.sources[source].can_ring]
    for source in ringing:
        yield _by_reading(show, mix, margin_of(show, mix, source))
        yield from _by_squeals(show, mix, source)
    yield from _beside(show, mix, ringing)
    yield from _together(show, mix, ringing)


def _beside(show: Show, mix: str, ringing: Collection[str]) -> Iterator[Caution]:
    """Raise nothing in a wedge in which another mic stands at its reserve, and let none come in that brings one there."""
    levels, reserve = show.levels[mix], show.settings.reserve_tenths
    comes_in = [source for source in ringing if not levels.sends[source].setting.is_on]
    after = replace(show, levels={**show.levels, mix: _all_on(levels, comes_in)})
    for source, position in levels.sends.items():
        is_other = position.setting.is_on and source not in ringing and (mix, source) in show.readings
        if not is_other or not ringing or source not in show.sources:
            continue
        left = floored(margin_of(after, mix, source).left_db or 0.0)
        if left < reserve or (left == reserve and not comes_in):
            bound = NO_ROOM_TENTHS if comes_in else 0
            yield Caution(CautionCode.AT_RESERVE, bound, left, source, Basis.MEASURED)


def _all_on(levels: Levels, sources: Collection[str]) -> Levels:
    for source in sources:
        position = levels.sends[source]
        on = replace(position, setting=replace(position.setting, is_on=True))
        levels = levels.with_position(source, on)
    return levels


def _by_reading(show: Show, mix: str, margin: Margin) -> Caution:
    source = margin.source
    if margin.left_db is None:
        bound, basis = _beyond_known(show, mix, source)
        return Caution(CautionCode.MARGIN_NOT_MEASURED, bound, source=source, basis=basis)
    left = floored(margin.left_db)
    usable = left - show.settings.reserve_tenths
    if margin.caution is MarginCaution.STALE:
        bound, basis = min((usable, Basis.MEASURED), _beyond_known(show, mix, source))
        return Caution(CautionCode.MARGIN_STALE, bound, left, source, basis)
    return Caution(_code_of(margin.caution), usable, left, source, Basis.MEASURED)


def _code_of(caution: MarginCaution | None) -> CautionCode:
    if caution is MarginCaution.AT_RESERVE:
        return CautionCode.AT_RESERVE
    return CautionCode.LOW_MARGIN if caution is MarginCaution.LOW else CautionCode.MARGIN_SHORT


def _beyond_known(show: Show, mix: str, source: str) -> tuple[int, Basis]:
    """Return how far up a source may go that nobody measured: little above what it began with, or to what stood a song."""
    unmeasured = show.settings.unmeasured_raise_tenths
    began = show.began_as_now(mix)
    known = [(unmeasured if began is None else unmeasured + _below(show, mix, source, began), Basis.BEGAN)]
    on = turned_up(show.sources, show.levels[mix], gains_to_come(show, mix))
    now = path_tenths(show.levels[mix], gains_to_come(show, mix), source)
    for held in show.past.held.get(mix, ()):
        if source in held and _is_held(held, on, source):
            known.append((held[source] - now, Basis.STOOD_A_SONG))
    return max(known)


def _is_held(held: Held, on: Held, beside: str) -> bool:
    """Whether all else that is on stood a song beside: what others bring was in it."""
    return all(one == beside or now <= held.get(one, -BOUNDLESS_TENTHS) for one, now in on.items())


def _by_squeals(show: Show, mix: str, source: str) -> Iterator[Caution]:
    """Keep away from where it squealed, until that mic was rung out again."""
    reading = show.readings.get((mix, source))
    since = reading.revision if reading else 0
    for one in show.disproofs_of(mix, Call.SQUEAL):
        was_on = source in one.stood.levels.sends and one.stood.levels.sends[source].setting.is_on
        if one.stood.revision > since:
            bound = _below(show, mix, source, one.stood) - show.settings.reserve_tenths
            # What was off then only adds to a loop that rang.
            beside = 0 if show.levels[mix].sends[source].setting.is_on else NO_ROOM_TENTHS
            yield Caution(
                CautionCode.AFTER_SQUEAL, bound if was_on else beside, source=source, basis=Basis.SQUEALED
            )


def _together(show: Show, mix: str, ringing: Collection[str]) -> Iterator[Caution]:
    """Keep the reserve for all that was read and is on in a wedge, since each sounds into every other's path."""
    gains = loop_gains(show, mix)
    sends = show.levels[mix].sends
    raised = [gains[source] for source in ringing if source in gains]
    rest = [
        gain
        for source, gain in gains.items()
        if source not in ringing and sends[source].setting.is_on and show.sources[source].can_ring
    ]
    if len(raised) + len(rest) < FEWEST_TOGETHER or not raised:
        return
    ceiling = power_ratio(-to_db(show.settings.reserve_tenths))
    left = floored(-10 * math.log10(math.fsum([*raised, *rest])))
    code = _code_of(feedback.caution(to_db(left), reserve_db=to_db(show.settings.reserve_tenths)))
    room = room_tenths(ceiling, math.fsum(raised), math.fsum(rest))
    yield Caution(code, room, left, basis=Basis.MEASURED)


def _below(show: Show, mix: str, source: str, stood: Stood) -> int:
    """Return how far a source stands below a moment, or will once preamps are turned; 0 if it was not there. [0.1 dB]."""
    if source not in stood.levels.sends:
        return 0
    levels, gains = show.levels[mix], gains_to_come(show, mix)
    desk = path_tenths(levels, {}, source) - path_tenths(stood.levels, {}, source)
    return -desk - gain_raise(show.sources, source, gains, stood.gains)


def room_tenths(ceiling: float, raised: float, rest: float) -> int:
    """Return `decibels.room_below` in whole tenths, never more than there is. [0.1 dB]."""
    room = room_below(ceiling, raised, rest)
    if math.isinf(room):
        return NO_ROOM_TENTHS if room < 0 else BOUNDLESS_TENTHS
    return max(NO_ROOM_TENTHS, floored(room))


def floored(db: float) -> int:
    """Return whole tenths, never more than there is; a hair below a tenth counts as that tenth. [0.1 dB]."""
    return math.floor(round(db * TENTHS_PER_DB, 6))
