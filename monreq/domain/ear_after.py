"""What a row's suggested move leads to at the ear of its mix, and whether that matters for the day: estimates.

It matters where the time that the day leaves becomes shorter than an evening, or where an evening of it comes to the
rule's action level; both by the end of the range where the level was read too low. Otherwise a row keeps quiet.
"""

from dataclasses import dataclass
from typing import Final, Literal

from monreq.domain.drifts import NOTICED_DB
from monreq.domain.ear_exposure import EarExposure, ear_exposure, time_left
from monreq.domain.ear_levels import bounded, level_at_ear
from monreq.domain.exposure import FULL_DOSE_PERCENT, WORKDAY_H, rule_named, time_weighted_average
from monreq.domain.exposure_limits import action_level
from monreq.domain.exposure_uncertainty import TYPED_LEVEL_DB, Estimate
from monreq.domain.guard import with_setting
from monreq.domain.queue import Row
from monreq.domain.show import Show

EVENING_H: Final = 3.0  # chosen: two sets and what is between them; nobody enters when an evening ends

Matter = Literal["time", "action"]


@dataclass(frozen=True, slots=True)
class EarAfter:
    """What the suggested move of a row leads to at the louder ear.

    Attributes:
        level_dba: Now; None while the mix is silent. [dB(A)]
        after_dba: With the move made; as now where nothing is moved. [dB(A)]
        left_h: How long the day lasts at that; None where it is silent, was read in a canal or coupler, or the day is
            over. [h]
        matters_by: That the day becomes shorter than an evening, or comes to the action level; None if neither.
    """

    level_dba: float | None
    after_dba: float | None
    left_h: Estimate | None
    matters_by: Matter | None


def ear_after(show: Show, row: Row) -> EarAfter | None:
    """Return what a row's suggested move leads to at the ear, as of when the show is told.

    Returns:
        None where no level was measured.
    """
    return ear_in(show, row.key.mix, _with_moves(show, row))


def ear_in(show: Show, mix: str, moved: Show) -> EarAfter | None:
    """Return what the ear of a mix gets in another state of a show, as `ear_after`."""
    found = ear_exposure(show, mix, show.at_ms)
    if found is None:
        return None
    after_dba = level_at_ear(moved, mix)
    is_told = found.dose_percent is not None and show.ear_levels[mix][-1].is_comparable
    if after_dba is None or not is_told or found.is_day_over:
        return EarAfter(found.level_dba, after_dba, None, None)
    left_h = _left(found, after_dba)
    return EarAfter(found.level_dba, after_dba, left_h, _matters_by(found, after_dba, left_h))


def _with_moves(show: Show, row: Row) -> Show:
    if row.is_group:
        for move in row.sends:
            show = with_setting(show, move.mix, move.source, move.after)
        return show
    target = row.set_to
    return show if target is None else with_setting(show, row.key.mix, row.key.source, target)


def _matters_by(found: EarExposure, after_dba: float, left_h: Estimate) -> Matter | None:
    now_dba = found.level_dba
    if now_dba is not None and after_dba <= now_dba:
        return None
    if left_h.low < EVENING_H:
        is_news = now_dba is None or _left(found, now_dba).low >= EVENING_H
        return "time" if is_news or after_dba - (now_dba or 0.0) >= NOTICED_DB else None
    crosses = _comes_to_action(found, after_dba) and not (
        now_dba is not None and _comes_to_action(found, now_dba)
    )
    return "action" if crosses else None


def _left(found: EarExposure, level_dba: float) -> Estimate:
    return time_left(_dose(found).about, level_dba, found.rule)


def _comes_to_action(found: EarExposure, level_dba: float) -> bool:
    """Whether the day may come to the rule's action level with an evening of a level."""
    rule = rule_named(found.rule)
    evening_days = (
        EVENING_H / WORKDAY_H * rule.energy(bounded(level_dba + TYPED_LEVEL_DB) - rule.criterion_dba)
    )
    day = time_weighted_average(_dose(found).high + FULL_DOSE_PERCENT * evening_days, found.rule)
    return day >= action_level(found.rule).figure


def _dose(found: EarExposure) -> Estimate:
    return found.dose_percent or Estimate(0.0, 0.0, 0.0)
