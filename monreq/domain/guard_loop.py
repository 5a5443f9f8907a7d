"""What bounds a raise in a wedge so that it does not ring: readings, what held, and what squealed there.

Each bound is a caution whose figure is how far everything that is raised may go up from where it stands; below zero, it
stands too high already. Readings come from a person and hold for one place and one room: all of it is advice.
"""

import math
from collections.abc import Collection, Iterator

from monreq.domain import feedback
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.decibels import TENTHS_PER_DB, power_ratio, room_below, to_db
from monreq.domain.ears import at_ear_tenths
from monreq.domain.feedback import MarginCaution
from monreq.domain.margins import FEWEST_TOGETHER, Margin, loop_gains, margin_of
from monreq.domain.requests import Call
from monreq.domain.setup import Output
from monreq.domain.show import Show, Stood

ABOVE_HELD_TENTHS = 10  # chosen: one step of a ring-out, in one trip above what stood a whole song
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
    yield from _together(show, mix, ringing)


def _by_reading(show: Show, mix: str, margin: Margin) -> Caution:
    if margin.left_db is None:
        return Caution(
            CautionCode.MARGIN_NOT_MEASURED, _beyond_known(show, mix, margin.source), source=margin.source
        )
    left = floored(margin.left_db)
    usable = left - show.settings.reserve_tenths
    if margin.caution is MarginCaution.STALE:
        bound = min(usable, _beyond_known(show, mix, margin.source))
        return Caution(CautionCode.MARGIN_STALE, bound, left, margin.source)
    return Caution(_code_of(margin.caution), usable, left, margin.source)


def _code_of(caution: MarginCaution | None) -> CautionCode:
    if caution is MarginCaution.AT_RESERVE:
        return CautionCode.AT_RESERVE
    return CautionCode.LOW_MARGIN if caution is MarginCaution.LOW else CautionCode.MARGIN_SHORT


def _beyond_known(show: Show, mix: str, source: str) -> int:
    """Return how far up a source may go that nobody measured: little above what it began with, or stood a song at."""
    now = at_ear_tenths(show.sources, show.levels[mix], show.gains, source)
    unmeasured = show.settings.unmeasured_raise_tenths
    known = [_at_ear_then(show, began, source, now) + unmeasured] if (began := show.began.get(mix)) else []
    if (mix, source) in show.held:
        held = show.held[mix, source]
        known += [held + ABOVE_HELD_TENTHS]
    return max(known, default=now + unmeasured) - now


def _by_squeals(show: Show, mix: str, source: str) -> Iterator[Caution]:
    """Keep away from where it squealed, until that mic was rung out again."""
    reading = show.readings.get((mix, source))
    since = reading.revision if reading else 0
    now = at_ear_tenths(show.sources, show.levels[mix], show.gains, source)
    for one in show.disproofs.values():
        was_on = source in one.stood.levels.sends and one.stood.levels.sends[source].setting.is_on
        if (one.mix, one.call) == (mix, Call.SQUEAL) and was_on and one.stood.revision > since:
            squealed = _at_ear_then(show, one.stood, source, now)
            bound = squealed - show.settings.reserve_tenths - now
            yield Caution(CautionCode.AFTER_SQUEAL, bound, source=source)


def _together(show: Show, mix: str, ringing: Collection[str]) -> Iterator[Caution]:
    """Keep the reserve for all that was read and is on in a wedge, since each sounds into every other's path."""
    on = [
        source.id
        for source, position in show.sends_in_order(mix)
        if source.can_ring and position.setting.is_on
    ]
    gains = loop_gains(show, mix, dict.fromkeys([*on, *ringing]))
    raised = math.fsum(gain for source, gain in gains.items() if source in ringing)
    rest = math.fsum(gain for source, gain in gains.items() if source not in ringing)
    if len(gains) < FEWEST_TOGETHER or not raised:
        return
    ceiling = power_ratio(-to_db(show.settings.reserve_tenths))
    left = floored(-10 * math.log10(raised + rest))
    code = _code_of(feedback.caution(to_db(left), reserve_db=to_db(show.settings.reserve_tenths)))
    yield Caution(code, room_tenths(ceiling, raised, rest), left)


def _at_ear_then(show: Show, stood: Stood, source: str, unless_there: int) -> int:
    there = source in stood.levels.sends
    return at_ear_tenths(show.sources, stood.levels, stood.gains, source) if there else unless_there


def room_tenths(ceiling: float, raised: float, rest: float) -> int:
    """Return `decibels.room_below` in whole tenths, never more than there is. [0.1 dB]."""
    room = room_below(ceiling, raised, rest)
    if math.isinf(room):
        return NO_ROOM_TENTHS if room < 0 else BOUNDLESS_TENTHS
    return max(NO_ROOM_TENTHS, floored(room))


def floored(db: float) -> int:
    """Return whole tenths, never more than there is; a hair below a tenth counts as that tenth. [0.1 dB]."""
    return math.floor(round(db * TENTHS_PER_DB, 6))
