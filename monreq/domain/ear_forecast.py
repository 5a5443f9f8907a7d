"""When an ear will have had a day's dose: at the level of now, and if that goes on rising as in the last half hour."""

import math
from dataclasses import dataclass
from typing import Final

from monreq.domain.ear_course import MS_PER_HOUR
from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.exposure import RuleName, rule_named
from monreq.domain.exposure_limits import steady_ceiling
from monreq.domain.exposure_uncertainty import TYPED_LEVEL_DB
from monreq.domain.show import Show

HORIZON_H: Final = 8.0  # chosen: a working day; beyond it a trend of half an hour says nothing
_HORIZON_MS: Final = int(HORIZON_H * MS_PER_HOUR)


@dataclass(frozen=True, slots=True)
class Forecast:
    """When a day's dose is full, an estimate.

    Attributes:
        as_of_ms: What it was told from. [ms since 1970, UTC]
        full_ms: If the level stays; as `as_of_ms` where it is full already. [ms since 1970, UTC]
        earliest_ms: The same, if the level was read as much too low as it may be; from then on no raise is advised.
            [ms since 1970, UTC]
        rising_ms: If the level goes on rising as in the half hour before; None where it does not rise, or not within what is
            told. [ms since 1970, UTC]
        rising_earliest_ms: The same, if the level was read as much too low as it may be; None alike. [ms since 1970, UTC]
    """

    as_of_ms: int
    full_ms: int
    earliest_ms: int
    rising_ms: int | None
    rising_earliest_ms: int | None

    @property
    def is_full(self) -> bool:
        """Whether nothing is left."""
        return self.full_ms <= self.as_of_ms

    @property
    def is_quiet(self) -> bool:
        """Whether it takes longer than is told, even if the level was read too low, unless it rises."""
        return self.earliest_ms > self.as_of_ms + _HORIZON_MS

    @property
    def is_far(self) -> bool:
        """Whether it takes longer than is told, unless the level was read too low, or rises."""
        return self.full_ms > self.as_of_ms + _HORIZON_MS


def last_forecast(show: Show, mix: str) -> Forecast | None:
    """Return the forecast as of when the mix last changed: a function of the state alone, which pages share.

    Until the next change the time that the level of now leaves stays where it was.

    Raises:
        UnknownMix: There is none of this id.
    """
    show.mix(mix)
    measured = show.ear_levels.get(mix)
    return forecast(show, mix, measured[-1].course.up_to_ms) if measured else None


def forecast(show: Show, mix: str, now_ms: int) -> Forecast | None:
    """Return when the dose of an ear is full.

    Returns:
        None where there is no dose, nothing is heard, the level is permitted for no time at all, the day is over, or the
        dose does not fill within eight hours, even if the level was read too low and goes on rising.

    Raises:
        UnknownMix: There is none of this id.
    """
    found = ear_exposure(show, mix, now_ms)
    if found is None or found.left_h is None or found.level_dba is None or found.is_above_ceiling:
        return None
    slope = show.ear_levels[mix][-1].course.slope_db_per_h(now_ms)
    rising_h = _rising_h(found.rule, found.left_h.about, found.level_dba, slope)
    rising_low_h = _rising_h(found.rule, found.left_h.low, found.level_dba + TYPED_LEVEL_DB, slope)
    if not show.is_open or found.is_day_over or min(found.left_h.low, rising_low_h) > HORIZON_H:
        return None
    return Forecast(
        as_of_ms=now_ms,
        full_ms=_after(now_ms, found.left_h.about),
        earliest_ms=_after(now_ms, found.left_h.low),
        rising_ms=_after(now_ms, rising_h) if rising_h <= HORIZON_H else None,
        rising_earliest_ms=_after(now_ms, rising_low_h) if rising_low_h <= HORIZON_H else None,
    )


def _rising_h(rule: RuleName, left_h: float, level_dba: float, slope_db_per_h: float) -> float:
    """Return when a level that rises evenly fills what is left, or comes to where no time is permitted. [h].

    Endless where it does not rise.
    """
    if slope_db_per_h <= 0:
        return math.inf
    growth_per_h = slope_db_per_h * _per_db(rule)
    full_h = math.log1p(growth_per_h * left_h) / growth_per_h
    limit = steady_ceiling(rule)
    return full_h if limit is None else min(full_h, max(0.0, limit.figure - level_dba) / slope_db_per_h)


def _per_db(rule: RuleName) -> float:
    """Return how fast the logarithm of a dose's rate grows with the level. [1/dB]."""
    chosen = rule_named(rule)
    return math.log(chosen.factor) / chosen.per_db


def _after(now_ms: int, hours: float) -> int:
    return now_ms + math.floor(hours * MS_PER_HOUR)
