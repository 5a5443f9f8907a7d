"""Feedback margins of a wedge in words."""

import math
from dataclasses import dataclass

from monreq.domain.decibels import TENTHS_PER_DB, to_db
from monreq.domain.feedback import MarginCaution
from monreq.domain.margins import Margin, margins_in
from monreq.domain.show import Show
from monreq.web import wording

_CAUTIONS = {
    MarginCaution.NOT_MEASURED: "not measured",
    MarginCaution.STALE: "stale",
    MarginCaution.AT_RESERVE: "at the reserve: no raise",
    MarginCaution.LOW: "under 6 dB",
}


@dataclass(frozen=True, slots=True)
class MarginLine:
    """One open mic in one wedge."""

    source: str
    name: str
    left: str
    caution: str
    reading: str


def open_mics_remark(show: Show) -> tuple[str, ...]:
    """Say that nobody counted the open mics, where readings depend on it."""
    if not show.readings or show.open_mics is not None:
        return ()
    return ("Open mics are not counted: each one opened since a margin was read spends some of it.",)


def margin_lines(show: Show, mix: str) -> list[MarginLine]:
    """Return a line for each mic that is open in a wedge; none for an in-ear pair."""
    return [_line(show, mix, margin) for margin in margins_in(show, mix)]


def margin_text(margin_db: float) -> str:
    """Return what is left of a margin, never more than there is: 3.8 dB; a hair below a tenth counts as that tenth."""
    return f"{wording.figure(math.floor(round(margin_db * TENTHS_PER_DB, 6)))} dB"


def _line(show: Show, mix: str, margin: Margin) -> MarginLine:
    reading = show.readings.get((mix, margin.source))
    return MarginLine(
        source=margin.source,
        name=show.source_name(margin.source) or "",
        left="" if margin.left_db is None else margin_text(margin.left_db),
        caution=_CAUTIONS[margin.caution] if margin.caution else "",
        reading=""
        if reading is None
        else f"read {to_db(reading.margin_tenths):g} dB with {reading.open_mics} open"
        + (f"; {reading.stale_because}" if reading.stale_because else ""),
    )
