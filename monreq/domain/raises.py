"""How far up is far enough in one trip: what bounds a suggested raise, and what to mind about it."""

import math
from collections.abc import Collection

from monreq.domain import feedback
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.decibels import TENTHS_PER_DB, to_db
from monreq.domain.feedback import MarginCaution
from monreq.domain.margins import Margin, margin_of, margins_in, together_db
from monreq.domain.requests import RowKey
from monreq.domain.setup import Output, Settings
from monreq.domain.show import Show

SAID_ONLY_WHERE_IT_CUTS = frozenset({CautionCode.RAISE_LIMITED, CautionCode.MARGIN_SHORT})


def raise_limits(show: Show, key: RowKey) -> list[Caution]:
    """Return the cautions of a raise, each with the bound it sets; the tightest holds.

    An in-ear pair is bounded per trip alone. In a wedge, each open mic that the raise turns up adds its margin: the
    reserve is never gone into, and what was not measured, or does not hold any more, is trusted little.
    """
    settings = show.settings
    if show.mix(key.mix).output is not Output.WEDGE:
        return [Caution(CautionCode.RAISE_LIMITED, settings.in_ear_raise_tenths)]
    by_margins = [limit for margin in _turned_up(show, key) for limit in _limits_of(margin, settings)]
    return [
        *(_tightest(by_margins, code) for code in CautionCode if any(one.code is code for one in by_margins)),
        Caution(CautionCode.RAISE_LIMITED, settings.wedge_raise_tenths),
    ]


def _turned_up(show: Show, key: RowKey) -> tuple[Margin, ...]:
    """Return the margins of what a raise turns up: one send's, or with the output everybody's."""
    if key.source is None:
        return (*margins_in(show, key.mix), *_together(show, key.mix, None))
    return (margin_of(show, key.mix, key.source),) if show.sources[key.source].can_ring else ()


def raised_together(show: Show, mix: str, sources: Collection[str]) -> list[Caution]:
    """Return what bounds a raise of several sends at once beside each one's own bounds: what they have left together."""
    if show.mix(mix).output is not Output.WEDGE:
        return []
    return [limit for margin in _together(show, mix, sources) for limit in _limits_of(margin, show.settings)]


def _together(show: Show, mix: str, among: Collection[str] | None) -> tuple[Margin, ...]:
    """Return what mics read alone have left together, as if they were one mic; nothing where fewer than two were."""
    left = together_db(show, mix, among)
    if left is None:
        return ()
    return (Margin("", left, feedback.caution(left, reserve_db=to_db(show.settings.reserve_tenths))),)


def _limits_of(margin: Margin, settings: Settings) -> list[Caution]:
    if margin.left_db is None:
        return [Caution(CautionCode.MARGIN_NOT_MEASURED, settings.unmeasured_raise_tenths)]
    left = _floored(margin.left_db)
    usable = _floored(feedback.usable_raise(margin.left_db, to_db(settings.reserve_tenths)))
    match margin.caution:
        case MarginCaution.STALE:
            return [Caution(CautionCode.MARGIN_STALE, min(usable, settings.unmeasured_raise_tenths), left)]
        case MarginCaution.AT_RESERVE:
            return [Caution(CautionCode.AT_RESERVE, 0, left)]
        case MarginCaution.LOW:
            return [Caution(CautionCode.LOW_MARGIN, usable, left)]
        case _:
            return [Caution(CautionCode.MARGIN_SHORT, usable, left)]


def _floored(db: float) -> int:
    """Return whole tenths, never more than there is; a hair below a tenth counts as that tenth."""
    return math.floor(round(db * TENTHS_PER_DB, 6))


def _tightest(limits: list[Caution], code: CautionCode) -> Caution:
    return min((one for one in limits if one.code is code), key=lambda one: one.figure or 0)
