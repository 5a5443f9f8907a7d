"""Feedback margins of a wedge in words."""

import math
from dataclasses import dataclass

from monreq.domain.decibels import TENTHS_PER_DB
from monreq.domain.feedback import MarginCaution
from monreq.domain.margins import Margin, is_disproved, margins_in
from monreq.domain.readings import MarginReading
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.speech import N_, _

_CAUTIONS = {
    MarginCaution.NOT_MEASURED: N_("not measured"),
    MarginCaution.STALE: N_("stale"),
    MarginCaution.AT_RESERVE: N_("at the reserve: no raise"),
    MarginCaution.LOW: N_("under 6 dB"),
}


@dataclass(frozen=True, slots=True)
class MarginLine:
    """One open mic in one wedge.

    Attributes:
        left: What is left of its margin; empty where it is not known, or not any more.
    """

    source: str
    name: str
    left: str
    caution: str
    reading: str


def open_mics_remark(show: Show) -> tuple[str, ...]:
    """Say that nobody counted the open mics, where readings depend on it."""
    if not show.readings or show.open_mics is not None:
        return ()
    return (_("Open mics are not counted: each one opened since a margin was read spends some of it."),)


def margin_lines(show: Show, mix: str) -> list[MarginLine]:
    """Return a line for each mic that is open in a wedge; none for an in-ear pair."""
    return [_line(show, mix, margin) for margin in margins_in(show, mix)]


def margin_text(margin_db: float) -> str:
    """Return what is left of a margin, never more than there is: 3.8 dB; a hair below a tenth counts as that tenth."""
    return _("%(figure)s dB", figure=wording.figure(math.floor(round(margin_db * TENTHS_PER_DB, 6))))


def _line(show: Show, mix: str, margin: Margin) -> MarginLine:
    reading = show.readings.get((mix, margin.source))
    return MarginLine(
        source=margin.source,
        name=show.source_name(margin.source) or "",
        left=_left(margin),
        caution=_(_CAUTIONS[margin.caution]) if margin.caution else "",
        reading=_read(reading, is_disproved=is_disproved(show, mix, reading)) if reading else "",
    )


def _left(margin: Margin) -> str:
    """Return what is left; a stale reading says nothing of it, and would seem to grow as an output goes down."""
    is_unknown = margin.left_db is None or margin.caution is MarginCaution.STALE
    return "" if is_unknown else margin_text(margin.left_db or 0.0)


def _read(reading: MarginReading, *, is_disproved: bool) -> str:
    said = _(
        "read %(figure)s dB with %(count)s open",
        figure=wording.figure(reading.margin_tenths),
        count=reading.open_mics,
    )
    since = [reading.stale_because, _("it squealed since") if is_disproved else ""]
    return "; ".join(filter(None, (said, *since)))
