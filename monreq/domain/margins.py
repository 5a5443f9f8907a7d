"""Feedback margins of a show: what is left of each reading as sends, outputs and open mics change."""

import math
from collections.abc import Collection
from dataclasses import dataclass

from monreq.domain import feedback, plausible
from monreq.domain.decibels import power_ratio, to_db
from monreq.domain.feedback import MarginCaution
from monreq.domain.gains import gains_to_come
from monreq.domain.readings import MarginReading
from monreq.domain.requests import Call
from monreq.domain.setup import Output, SourceKind
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
    left = _left_db(show, mix, source, reading, _open_now(show, mix, source, reading))
    is_stale = bool(reading.stale_because) or is_disproved(show, mix, reading)
    reserve = to_db(show.settings.reserve_tenths)
    return Margin(source, left, feedback.caution(left, is_stale=is_stale, reserve_db=reserve))


def is_disproved(show: Show, mix: str, reading: MarginReading) -> bool:
    """Whether a musician called that it squeals there since a margin was read."""
    return any(
        one.mix == mix and one.call is Call.SQUEAL and one.stood.revision > reading.revision
        for one in show.disproofs.values()
    )


def mics_on(show: Show, mix: str) -> set[str]:
    """Return the open mics that are on in a mix."""
    return {
        source
        for source, position in show.levels[mix].sends.items()
        if position.setting.is_on
        and source in show.sources
        and show.sources[source].kind is SourceKind.OPEN_MIC
    }


def loop_gains(show: Show, mix: str, sources: Collection[str]) -> dict[str, float]:
    """Return how near to ringing each of some sources is in a wedge, of those with a reading: a power, 1 where it rings.

    A reading that was made with several mics open is taken for what one of so many equal ones brings, as
    `feedback.open_mic_penalty` takes it.
    """
    gains = {}
    for source in sources:
        reading = show.readings.get((mix, source))
        if reading is not None:
            left = _left_db(show, mix, source, reading, reading.open_mics)
            gains[source] = power_ratio(-plausible.nearest_db(left)) / reading.open_mics
    return gains


def together_db(show: Show, mix: str) -> float | None:
    """Return the margin of all that was read and is on in a wedge, together: an indicator. [dB].

    Each alone says too much, for all of them sound into one another's path.

    Returns:
        None where fewer than two were read.

    Raises:
        UnknownMix: There is none of this id.
    """
    gains = loop_gains(show, mix, [one.source for one in margins_in(show, mix)])
    return -10 * math.log10(math.fsum(gains.values())) if len(gains) >= FEWEST_TOGETHER else None


def _open_now(show: Show, mix: str, source: str, reading: MarginReading) -> int:
    """Return how many mics to count as open: as many as were counted, and at least those that are on in this wedge."""
    is_mic = show.sources[source].kind is SourceKind.OPEN_MIC
    on = len(mics_on(show, mix) | ({source} if is_mic else set()))
    return max(reading.open_mics, show.open_mics or 0, on)


def _left_db(show: Show, mix: str, source: str, reading: MarginReading, open_now: int) -> float:
    """Return what is left of a reading, with so many mics open. [dB]."""
    position = show.position(mix, source)
    send_raise = position.setting.level_tenths - reading.send_tenths
    gain_raise = _gain_raise(show, mix, source, reading)
    output_raise = show.levels[mix].output.setting.level_tenths - reading.output_tenths
    return feedback.margin_after(
        to_db(reading.margin_tenths),
        plausible.nearest_db(to_db(send_raise + gain_raise)),
        plausible.nearest_db(to_db(output_raise)),
        reading.open_mics,
        open_now,
    )


def _gain_raise(show: Show, mix: str, source: str, reading: MarginReading) -> int:
    """Return how far preamps raise a source since a reading, or will: a return as far as any mic that may feed it."""
    gains = gains_to_come(show, mix)
    own = gains.get(source, 0) - reading.gain_tenths
    if show.sources[source].kind is not SourceKind.RETURN:
        return own
    mics = (one.id for one in show.sources.values() if one.kind is SourceKind.OPEN_MIC)
    return max([own, *(gains.get(mic, 0) - reading.gains.get(mic, 0) for mic in mics)])


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
    """Return the least margin that was measured in a mix; None if none was. [dB].

    Raises:
        UnknownMix: There is none of this id.
    """
    show.mix(mix)
    if not any(of_mix == mix for of_mix, _ in show.readings):
        return None
    return min((one.left_db for one in margins_in(show, mix) if one.left_db is not None), default=None)
