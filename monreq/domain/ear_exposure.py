"""What a level measured at the ear comes to over an evening: dose so far and time left, all of it estimated.

The level at the ear is that of `ear_levels`, if the pack's volume and the playing are unchanged. Every minute counts as
played, the gaps between songs too, which errs to the careful side. Time and energy are kept in the show's state, up to
the last change of each mix; what was heard since is added here.
"""

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from monreq.domain.decibels import to_db
from monreq.domain.ear_levels import DAY_MS, bounded, level_at_ear, level_raised, on_to
from monreq.domain.exposure import FULL_DOSE_PERCENT, WORKDAY_H, RuleName, hours_left, rule_named
from monreq.domain.exposure_limits import hours_permitted, is_above_ceiling
from monreq.domain.exposure_uncertainty import TYPED_LEVEL_DB, Estimate
from monreq.domain.exposure_weekly import allowance_hours
from monreq.domain.readings import EarLevel
from monreq.domain.show import Show


@dataclass(frozen=True, slots=True)
class EarExposure:
    """An estimate of what an ear had since the first level of the day was measured.

    Attributes:
        rule: By which dose and time are reckoned.
        as_of_ms: As of when it is told. [ms since 1970, UTC]
        since_ms: When counting began. [ms since 1970, UTC]
        counted_h: How long sound was counted: under levels that a rule may be held against. [h]
        level_dba: At the louder ear now; None while the mix is silent. [dB(A)]
        dose_percent: Of a day, as far as it was counted; None where every level of the day was read in a canal or coupler. [%]
        left_h: How long the level of now may last; None while the mix is silent, and where it was read in a canal or
            coupler. [h]
        points: So far today, of the UK and EU; None as the dose. [1]
        allowance_percent: Of a week's allowance for listening, so far today; None as the dose. [%]
        is_above_ceiling: Whether the rule permits the level of now for no time at all.
        is_day_over: Whether counting ended because a day has passed.
    """

    rule: RuleName
    as_of_ms: int
    since_ms: int
    counted_h: float
    level_dba: float | None
    dose_percent: Estimate | None
    left_h: Estimate | None
    points: Estimate | None
    allowance_percent: Estimate | None
    is_above_ceiling: bool
    is_day_over: bool


@dataclass(frozen=True, slots=True)
class LevelAfter:
    """What a raise would come to at the ear.

    Attributes:
        level_dba: At the louder ear. [dB(A)]
        permitted_h: How long that may last a day under the show's rule; None where it was read in a canal or coupler. [h]
    """

    level_dba: float
    permitted_h: Estimate | None


def level_after(show: Show, mix: str, change_db: float) -> LevelAfter | None:
    """Return what a change at the ear [dB] would lead to, and how long a day that may last.

    Returns:
        None where no level was measured, and while an in-ear pair is silent.

    Raises:
        UnknownMix: There is none of this id.
    """
    level = level_raised(show, mix, change_db)
    if level is None:
        return None
    rule = show.settings.exposure_rule
    is_comparable = show.ear_levels[mix][-1].is_comparable
    return LevelAfter(
        level, _falling(lambda off: hours_permitted(bounded(level + off), rule)) if is_comparable else None
    )


def dose_is_full(show: Show, mix: str, now_ms: int | None = None) -> bool:
    """Return whether an ear may have had a day's dose: whether the upper end of the estimate comes to one.

    Without a time it is told as of the show's last event, from the state alone. Where nothing was measured, or only in
    a canal or coupler, nobody can tell, and it is not.

    Raises:
        UnknownMix: There is none of this id.

    References:
        TRLV Lärm, part 2 (Germany, 2017), section 9(3): a value within the range of a reading is taken as exceeded.
    """
    found = ear_exposure(show, mix, show.at_ms if now_ms is None else now_ms)
    return (
        found is not None and found.dose_percent is not None and found.dose_percent.high >= FULL_DOSE_PERCENT
    )


def full_at_ms(show: Show, mix: str, ahead_ms: int = 0) -> int | None:
    """Return the first moment after the show's last event ahead of which `dose_is_full`, if the level stays as it is.

    Args:
        show: The show.
        mix: The id of one of its mixes.
        ahead_ms: How far ahead. [ms]

    Returns:
        None where it is so already, and where the day ends first. [ms since 1970, UTC]

    Raises:
        UnknownMix: There is none of this id.
    """
    measured = show.ear_levels.get(mix)
    if not measured or dose_is_full(show, mix, show.at_ms + ahead_ms):
        return None
    rule = show.settings.exposure_rule

    def dose_at(at_ms: int) -> float:
        return dose_so_far(_counted(on_to(measured, at_ms + ahead_ms)), rule).high

    # A dose never falls, so that the moment is looked for and not reckoned: both agree to the last digit.
    ahead = range(show.at_ms + 1, measured[0].at_ms + DAY_MS + 1)
    place = bisect_left(ahead, FULL_DOSE_PERCENT, key=dose_at)
    return ahead[place] if place < len(ahead) else None


def ear_exposure(show: Show, mix: str, now_ms: int) -> EarExposure | None:
    """Return what an ear had since the first level of the day was measured.

    Returns:
        None where no level was measured.

    Raises:
        UnknownMix: There is none of this id.
    """
    show.mix(mix)
    measured = on_to(show.ear_levels.get(mix, ()), now_ms)
    if not measured:
        return None
    rule, level = show.settings.exposure_rule, level_at_ear(show, mix)
    counted = _counted(measured)
    is_comparable = measured[-1].is_comparable
    dose = dose_so_far(counted, rule)
    return EarExposure(
        rule=rule,
        as_of_ms=now_ms,
        since_ms=measured[0].at_ms,
        counted_h=sum(one.course.hours for one in counted),
        level_dba=level,
        dose_percent=dose if counted else None,
        left_h=time_left(dose.about, level, rule) if is_comparable and level is not None else None,
        points=dose_so_far(counted, "eu") if counted else None,
        allowance_percent=_of_week(counted) if counted else None,
        is_above_ceiling=is_comparable and level is not None and is_above_ceiling(level, rule),
        is_day_over=now_ms >= measured[0].at_ms + DAY_MS,
    )


def _counted(measured: Sequence[EarLevel]) -> list[EarLevel]:
    """Return the levels that a rule may be held against."""
    return [one for one in measured if one.is_comparable]


def dose_so_far(measured: Sequence[EarLevel], rule: RuleName) -> Estimate:
    """Return how much of a day's dose the levels of a day came to, as far as they are reckoned. [%]."""
    chosen = rule_named(rule)
    hours = sum(
        one.course.weighted_h.get(rule, 0.0) * chosen.energy(to_db(one.level_tenths) - chosen.criterion_dba)
        for one in measured
    )
    return _rising(lambda off: FULL_DOSE_PERCENT * hours * chosen.energy(off) / WORKDAY_H)


def time_left(dose: float, level_dba: float, rule: RuleName) -> Estimate:
    """Return how long a level [dB(A)] may still last after a dose [%]: both rest on the same reading. [h]."""

    def left_h(off_db: float) -> float:
        level = bounded(level_dba + off_db)
        if is_above_ceiling(level, rule):
            return 0.0
        return hours_left(dose * rule_named(rule).energy(off_db), level, rule)

    return _falling(left_h)


def _of_week(measured: Sequence[EarLevel]) -> Estimate:
    # The weekly allowance trades level for time as NIOSH does: half of it for 3 dB.
    used = sum(
        one.course.weighted_h.get("niosh", 0.0) / allowance_hours(to_db(one.level_tenths)) for one in measured
    )
    return _rising(lambda off: FULL_DOSE_PERCENT * used * rule_named("niosh").energy(off))


def _rising(figure: Callable[[float], float]) -> Estimate:
    """Return a figure that grows with the level, and what it is where the level was read too high or too low. [dB]."""
    return Estimate(figure(0.0), figure(-TYPED_LEVEL_DB), figure(TYPED_LEVEL_DB))


def _falling(figure: Callable[[float], float]) -> Estimate:
    return Estimate(figure(0.0), figure(TYPED_LEVEL_DB), figure(-TYPED_LEVEL_DB))
