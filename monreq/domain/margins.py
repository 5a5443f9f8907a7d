"""Feedback margins of a show: what is left of each reading as sends, outputs and open mics change."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from monreq.domain import feedback, plausible
from monreq.domain.decibels import power_ratio, to_db
from monreq.domain.feedback import MarginCaution
from monreq.domain.gains import gain_raise, gains_to_come
from monreq.domain.levels import Levels
from monreq.domain.readings import MarginReading
from monreq.domain.remembering import by_identity
from monreq.domain.requests import Call
from monreq.domain.setup import Output, Source, SourceKind
from monreq.domain.show import Show

FEWEST_TOGETHER = 2


@dataclass(frozen=True, slots=True)
class Margin:
    """What is left for one mic in one wedge.

    Attributes:
        left_db: None where it was not measured. [dB]
        caution: What to mind; None if nothing.
    """

    source: str
    left_db: float | None
    caution: MarginCaution | None


def margin_of(show: Show, mix: str, source: str) -> Margin:
    """Return the margin left for what can ring in a wedge. It is an indicator, not a promise.

    A preamp that was raised spends margin until the send is lowered for it, and what is planned is spent beforehand.
    More mics open than at the reading cost margin; fewer give none back. A squeal since disproves the reading.

    Raises:
        UnknownMix, SourceNotInMix: There is no such mix, or the source is not on its list.
    """
    show.position(mix, source)
    reading = show.readings.get((mix, source))
    if reading is None:
        return Margin(source, None, MarginCaution.NOT_MEASURED)
    open_now = _open_now(show, mix, source, reading)
    path = _Path(show.sources, show.levels[mix], gains_to_come(show, mix), source)
    left = _left_db(path, reading, open_now)
    is_stale = bool(reading.stale_because) or is_disproved(show, mix, reading)
    reserve = to_db(show.settings.reserve_tenths)
    return Margin(source, left, feedback.caution(left, is_stale=is_stale, reserve_db=reserve))


def is_disproved(show: Show, mix: str, reading: MarginReading) -> bool:
    """Whether a musician called that it squeals there since a margin was read."""
    return any(one.stood.revision > reading.revision for one in show.disproofs_of(mix, Call.SQUEAL))


@by_identity
def mics_on(sources: Mapping[str, Source], levels: Levels) -> frozenset[str]:
    """Return the open mics that are on in a mix."""
    return frozenset(
        source
        for source, position in levels.sends.items()
        if position.setting.is_on and source in sources and sources[source].kind is SourceKind.OPEN_MIC
    )


def loop_gains(show: Show, mix: str) -> Mapping[str, float]:
    """Return how near to ringing each source of a mix with a reading is, or would be if on: a power, 1 where it rings.

    What each brought when it was read is told by `feedback.loop_gains`, and raises since come on top.
    """
    facts = show.mix(mix)
    return _loop_gains(show.readings, show.sources, show.levels[mix], gains_to_come(show, mix), facts.id)


@by_identity
def _loop_gains(
    readings: Mapping[tuple[str, str], MarginReading],
    sources: Mapping[str, Source],
    levels: Levels,
    gains: Mapping[str, int],
    mix: str,
) -> Mapping[str, float]:
    here = {
        source: reading
        for (of_mix, source), reading in readings.items()
        if of_mix == mix and source in levels.sends
    }
    as_read = feedback.loop_gains(
        {source: (to_db(reading.margin_tenths), reading.open_mics) for source, reading in here.items()}
    )
    spent = {
        source: to_db(reading.margin_tenths)
        - _left_db(_Path(sources, levels, gains, source), reading, reading.open_mics)
        for source, reading in here.items()
    }
    return {source: as_read[source] * power_ratio(plausible.nearest_db(spent[source])) for source in here}


def _open_now(show: Show, mix: str, source: str, reading: MarginReading) -> int:
    """Return how many mics to count as open: as many as were counted, and at least those that are on in this wedge."""
    is_mic = show.sources[source].kind is SourceKind.OPEN_MIC
    on = len(mics_on(show.sources, show.levels[mix]) | ({source} if is_mic else set()))
    return max(reading.open_mics, show.open_mics or 0, on)


class _Path(NamedTuple):
    """What a source goes through on its way into a mix."""

    sources: Mapping[str, Source]
    levels: Levels
    gains: Mapping[str, int]
    source: str


def _left_db(path: _Path, reading: MarginReading, open_now: int) -> float:
    """Return what is left of a reading, with so many mics open. [dB]."""
    before = {**reading.gains, path.source: reading.gain_tenths}
    raised = gain_raise(path.sources, path.source, path.gains, before)
    send = path.levels.sends[path.source].setting.level_tenths - reading.send_tenths
    output = path.levels.output.setting.level_tenths - reading.output_tenths
    return feedback.margin_after(
        to_db(reading.margin_tenths),
        plausible.nearest_db(to_db(send + raised)),
        plausible.nearest_db(to_db(output)),
        reading.open_mics,
        open_now,
    )


def margins_in(show: Show, mix: str) -> tuple[Margin, ...]:
    """Return the margins of all that can ring in a mix: nothing in an in-ear pair, open mics that are on in a wedge.

    Raises:
        UnknownMix: There is none of this id.
    """
    if show.mix(mix).output is not Output.WEDGE:
        return ()
    return tuple(
        margin_of(show, mix, source.id)
        for source, position in show.sends_in_order(mix)
        if source.can_ring and position.setting.is_on
    )


def least_margin_db(show: Show, mix: str) -> float | None:
    """Return the least margin that was measured in a mix and still holds; None if none does. [dB].

    Raises:
        UnknownMix: There is none of this id.
    """
    show.mix(mix)
    if not any(of_mix == mix for of_mix, _ in show.readings):
        return None
    holding = (one for one in margins_in(show, mix) if one.caution is not MarginCaution.STALE)
    return min((one.left_db for one in holding if one.left_db is not None), default=None)
