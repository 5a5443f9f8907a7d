"""Feedback margins of a show: what is left of each reading as sends, outputs and open mics change."""

from collections.abc import Collection
from dataclasses import dataclass

from monreq.domain import feedback, plausible
from monreq.domain.decibels import to_db
from monreq.domain.feedback import MarginCaution
from monreq.domain.readings import MarginReading
from monreq.domain.setup import Output
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
    """Return the margin left for an open mic in a wedge. It is an indicator, not a promise.

    A preamp that was raised spends margin until the send is lowered for it, and what is planned is spent beforehand.
    More mics open than at the reading cost margin; fewer give none back.

    Raises:
        UnknownMix, SourceNotInMix: There is no such mix, or the source is not on its list.
    """
    show.position(mix, source)
    reading = show.readings.get((mix, source))
    if reading is None:
        return Margin(source, None, MarginCaution.NOT_MEASURED)
    left = _left_db(show, mix, source, reading, max(reading.open_mics, show.open_mics or 0))
    is_stale = bool(reading.stale_because)
    reserve = to_db(show.settings.reserve_tenths)
    return Margin(source, left, feedback.caution(left, is_stale=is_stale, reserve_db=reserve))


def together_db(show: Show, mix: str, among: Collection[str] | None = None) -> float | None:
    """Return the margin of all mics of a mix that were each read alone, raised together by its output. [dB].

    Each alone says too much then, for all of them sound into one another's path. It is an indicator.

    Args:
        show: The show now.
        mix: The id of one of its mixes.
        among: Sources, where only those of a group are raised; None for all.

    Returns:
        None where fewer than two were read alone.

    Raises:
        UnknownMix: There is none of this id.
    """
    alone = [
        (one.source, reading)
        for one in margins_in(show, mix)
        if (among is None or one.source in among)
        and (reading := show.readings.get((mix, one.source)))
        and reading.open_mics == 1
    ]
    if len(alone) < FEWEST_TOGETHER:
        return None
    return feedback.combined_margin(
        plausible.nearest_db(_left_db(show, mix, source, reading, 1)) for source, reading in alone
    )


def _left_db(show: Show, mix: str, source: str, reading: MarginReading, open_now: int) -> float:
    """Return what is left of a reading, with so many mics open. [dB]."""
    position = show.position(mix, source)
    send_raise = position.setting.level_tenths - reading.send_tenths
    gain_raise = show.gains.get(source, 0) - reading.gain_tenths + max(0, _to_come(show, mix, source))
    output_raise = show.levels[mix].output.setting.level_tenths - reading.output_tenths
    return feedback.margin_after(
        to_db(reading.margin_tenths),
        plausible.nearest_db(to_db(send_raise + gain_raise)),
        plausible.nearest_db(to_db(output_raise)),
        reading.open_mics,
        open_now,
    )


def _to_come(show: Show, mix: str, source: str) -> int:
    """Return how far a mic will still be turned up once all that is planned at its preamp is done. [0.1 dB]."""
    changes = {change.id: change for change in show.preamp_changes.values() if change.source == source}
    if not changes:
        return 0
    asked = [one for one in show.open_requests.values() if one.group in changes]
    waiting = sum(one.amount for one in asked if one.key.mix == mix)
    return waiting + sum(change.change_tenths for change in changes.values() if not change.is_moved)


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
