"""Feedback margins of a show: what is left of each reading as sends, outputs and open mics change."""

from dataclasses import dataclass

from monreq.domain import feedback
from monreq.domain.decibels import to_db
from monreq.domain.feedback import MarginCaution
from monreq.domain.setup import Output
from monreq.domain.show import Show


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

    A preamp that was raised spends margin until the send is lowered for it. More mics open than at the reading cost margin; fewer give none back.

    Raises:
        UnknownMix, SourceNotInMix: There is no such mix, or the source is not on its list.
    """
    position = show.position(mix, source)
    reading = show.readings.get((mix, source))
    if reading is None:
        return Margin(source, None, MarginCaution.NOT_MEASURED)
    gain_change = show.gains.get(source, 0) - reading.gain_tenths
    left = feedback.margin_after(
        to_db(reading.margin_tenths),
        to_db(position.setting.level_tenths - reading.send_tenths + gain_change),
        to_db(show.levels[mix].output.setting.level_tenths - reading.output_tenths),
        reading.open_mics,
        max(reading.open_mics, show.open_mics or 0),
    )
    is_stale = bool(reading.stale_because)
    reserve = to_db(show.settings.reserve_tenths)
    return Margin(source, left, feedback.caution(left, is_stale=is_stale, reserve_db=reserve))


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
    return min((one.left_db for one in margins_in(show, mix) if one.left_db is not None), default=None)
