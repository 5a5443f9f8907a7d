"""What bounds a raise so that it does not hurt: what it comes to at the ear, in one go, in this gap and over the evening.

Each bound is a caution whose figure is how far everything that is raised may go up from where it stands; below zero, it
stands too high already. Pans, click and talkback count; what the stage adds, and what the pack is turned to, nobody knows.

Before the mark the evening counts from levels that a person typed, a whole mix in one go on its page. A bound in dB(A)
instead would need a reading through a pack whose volume is still being found; a typed figure needs only the hand that set it.
"""

import math
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from typing import NamedTuple

from monreq.domain.cautions import Basis, Caution, CautionCode
from monreq.domain.decibels import TENTHS_PER_DB, power_ratio, to_db
from monreq.domain.ear_exposure import dose_is_full, full_at_ms
from monreq.domain.ears import Ears, at_ear_tenths, ear_powers, source_powers, with_output_on
from monreq.domain.exposure_limits import steady_ceiling
from monreq.domain.exposure_uncertainty import TYPED_LEVEL_DB
from monreq.domain.gains import gains_to_come
from monreq.domain.guard_loop import BOUNDLESS_TENTHS, room_tenths
from monreq.domain.levels import Levels
from monreq.domain.remembering import by_identity
from monreq.domain.requests import Call
from monreq.domain.setup import Output, Settings, Source
from monreq.domain.show import Show, Stood
from monreq.domain.starting_low import stands_low

MS_PER_S = 1000


class Ceiling(NamedTuple):
    """How far above a moment a mix, and one source of it, may come. [0.1 dB]."""

    code: CautionCode
    stood: Stood
    of_mix: int
    of_source: int
    basis: Basis | None = None


def day_is_over(show: Show, mix: str) -> bool:
    """Return whether an ear may have had a day's dose before a song is over, at the level as it is."""
    return dose_is_full(show, mix, show.at_ms + show.settings.song_s * MS_PER_S)


def day_is_over_at_ms(show: Show, mix: str) -> int | None:
    """Return the first moment after the show's last event at which `day_is_over`; None if none comes, or it was.

    [ms since 1970, UTC]
    """
    return full_at_ms(show, mix, show.settings.song_s * MS_PER_S)


def one_trip(show: Show, mix: str) -> int:
    """Return the most that is suggested upwards in one trip, and in one gap, for a mix. [0.1 dB]."""
    is_wedge = show.mix(mix).output is Output.WEDGE
    return show.settings.wedge_raise_tenths if is_wedge else show.settings.in_ear_raise_tenths


def ear_limits(show: Show, mix: str, raised: Collection[str], *, is_louder: bool = True) -> Iterator[Caution]:
    """Yield what bounds a raise of some sources at the ear.

    Args:
        show: The show now.
        mix: The id of one of its mixes.
        raised: What goes up together, on or about to come in.
        is_louder: Whether the mix becomes louder with it: not where the output goes down against it.
    """
    if is_louder and day_is_over(show, mix):
        yield Caution(CautionCode.DOSE_FULL, 0)
    for ceiling in _ceilings(show, mix):
        for source in raised:
            room = _room_of_source(show, mix, ceiling, source)
            yield Caution(ceiling.code, room, source=source, basis=ceiling.basis)
        if is_louder:
            yield Caution(ceiling.code, _room_of_mix(show, mix, ceiling, raised), basis=ceiling.basis)


def comes_in_limits(show: Show, mix: str, sources: Collection[str]) -> Iterator[Caution]:
    """Yield what bounds how loud sources come in: as a raise, and the mix grows by no more than one trip."""
    for limit in ear_limits(show, mix, sources):
        is_full = limit.code is CautionCode.DOSE_FULL
        yield replace(limit, figure=-BOUNDLESS_TENTHS) if is_full else limit
    now = max(ear_powers(show.sources, show.levels[mix], show.gains))
    if now:
        trip = Ceiling(
            CautionCode.RAISE_LIMITED, Stood(show.levels[mix], show.gains, 0, 0), one_trip(show, mix), 0
        )
        yield Caution(trip.code, _room_of_mix(show, mix, trip, sources))


def louder_than_advised(show: Show, mix: str) -> Caution | None:
    """Return why a mix had better not have become as loud as it is: its day is over, or it stands above a ceiling.

    None if nothing speaks against it.
    """
    if day_is_over(show, mix):
        return Caution(CautionCode.DOSE_FULL, 0)
    on = [source for source, position in show.levels[mix].sends.items() if position.setting.is_on]
    over = (
        Caution(ceiling.code, 0, basis=ceiling.basis)
        for ceiling in _ceilings(show, mix)
        if _room_of_mix(show, mix, ceiling, on) < 0
    )
    return next(over, None)


def _ceilings(show: Show, mix: str) -> Iterator[Ceiling]:
    settings, trip = show.settings, one_trip(show, mix)
    for stood in moments_of_gap(show, mix):
        is_of_stretch = show.phase_at_ms is not None and stood.at_ms >= show.phase_at_ms
        yield Ceiling(
            CautionCode.RAISED_ALREADY, stood, trip, trip, None if is_of_stretch else Basis.JUST_NOW
        )
    if (began := show.began_as_now(mix)) is not None:
        evening, basis = _evening(show, mix, settings), counted_from(show, mix)
        yield Ceiling(CautionCode.EVENING_LIMIT, began, evening, settings.source_evening_tenths, basis)
    yield from _where_time_ends(show, mix)
    for one in show.disproofs_of(mix, Call.HURTS):
        away = -settings.reserve_tenths
        yield Ceiling(CautionCode.AFTER_HURTS, one.stood, away, away)


def counted_from(show: Show, mix: str) -> Basis | None:
    """Return what the evening of a mix counts from; None if nobody set it yet."""
    began = show.began_as_now(mix)
    if began is None:
        return None
    if began.revision == show.past.first_mark:
        return Basis.MARK if began.at_ms == show.marked_at_ms else Basis.FIRST_MARK
    return Basis.LOW_START if stands_low(began.levels, show.mix(mix).output) else Basis.START_LEVELS


def waits_for_start_levels(show: Show, mix: str) -> bool:
    """Whether a mix still counts from its low start, and typing its levels would let it begin anew."""
    return show.mark is None and counted_from(show, mix) is Basis.LOW_START


def _where_time_ends(show: Show, mix: str) -> Iterator[Ceiling]:
    """Yield the level above which the show's rule may permit no time at all, where a level at the ear was measured.

    The reading may be too low, so that as much is kept away from it.
    """
    limit, measured = steady_ceiling(show.settings.exposure_rule), show.ear_levels.get(mix, ())
    if limit is None or not measured or not measured[-1].is_comparable:
        return
    last = measured[-1]
    stood = Stood(last.levels, last.gains, last.at_ms, show.revision)
    room = math.floor((limit.figure - TYPED_LEVEL_DB) * TENTHS_PER_DB) - last.level_tenths
    yield Ceiling(CautionCode.NO_TIME_ABOVE, stood, room, BOUNDLESS_TENTHS)


def moments_of_gap(show: Show, mix: str) -> tuple[Stood, ...]:
    """Return how a mix stood before the first move of this song or gap, and before all for as long as a gap takes.

    Keys that are pressed in between shorten no gap, and without songs the last half minute or so is one.
    """
    moments, first = show.past.before_raises.get(mix, ()), _first_of_phase(show, mix)
    return tuple(one for one in moments if one is first or _counts_until_ms(show, one) > show.at_ms)


def count_until_ms(show: Show, mix: str) -> tuple[int, ...]:
    """Return when moves of a mix cease to count by time alone; the first of this song or gap counts until its end is said.

    [ms since 1970, UTC]
    """
    first = _first_of_phase(show, mix)
    return tuple(_counts_until_ms(show, one) for one in moments_of_gap(show, mix) if one is not first)


def _first_of_phase(show: Show, mix: str) -> Stood | None:
    if show.phase_at_ms is None:
        return None
    moments = show.past.before_raises.get(mix, ())
    return next((one for one in moments if one.revision >= show.stretch.revision), None)


def _counts_until_ms(show: Show, stood: Stood) -> int:
    return stood.at_ms + show.settings.gap_s * MS_PER_S


def _evening(show: Show, mix: str, settings: Settings) -> int:
    is_wedge = show.mix(mix).output is Output.WEDGE
    return settings.wedge_evening_tenths if is_wedge else settings.in_ear_evening_tenths


def _room_of_source(show: Show, mix: str, ceiling: Ceiling, source: str) -> int:
    """Return how far a source may go up to a ceiling; one that was not there then is bounded by the mix alone."""
    stood = ceiling.stood
    if source not in stood.levels.sends:
        return BOUNDLESS_TENTHS
    then = at_ear_tenths(show.sources, stood.levels, stood.gains, source)
    now = at_ear_tenths(show.sources, show.levels[mix], gains_to_come(show, mix), source)
    return then + ceiling.of_source - now


def _room_of_mix(show: Show, mix: str, ceiling: Ceiling, raised: Collection[str]) -> int:
    """Return how far sources may go up until the louder ear comes to a ceiling; an output that is off may come on."""
    stood = ceiling.stood
    then = _louder_ear_then(show.sources, stood.levels, stood.gains)
    if not then:
        return BOUNDLESS_TENTHS
    levels, gains = show.levels[mix], gains_to_come(show, mix)
    most = then * power_ratio(to_db(ceiling.of_mix))
    all_on = with_output_on(show.sources, levels, gains)
    ups = [source_powers(show.sources, levels, gains, source) for source in raised]
    on = [levels.sends[source].setting.is_on for source in raised]
    return min(_room_at(most, all_on, ups, on, ear) for ear in (0, 1))


@by_identity
def _louder_ear_then(sources: Mapping[str, Source], levels: Levels, gains: Mapping[str, int]) -> float:
    """Return the power at the louder ear; where all was off, what all of it together would come to; 0 if there is nothing."""
    louder = max(with_output_on(sources, levels, gains))
    if louder:
        return louder
    each = [source_powers(sources, levels, gains, source) for source in levels.sends]
    return max(math.fsum(left for left, _ in each), math.fsum(right for _, right in each))


def _room_at(most: float, all_on: Ears, ups: list[Ears], on: list[bool], ear: int) -> int:
    raised = sum(up[ear] for up in ups)
    rest = all_on[ear] - sum(up[ear] for up, is_on in zip(ups, on, strict=True) if is_on)
    return room_tenths(most, raised, max(0.0, rest))
