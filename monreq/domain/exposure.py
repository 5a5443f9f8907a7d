"""How long a level at the ear is allowed, and how much of a day's dose was used: estimates, never a safety device.

Each holds for a level that somebody measured at the ear and typed in; local law and licensed practice come first.
Thresholds and ceilings stand in `exposure_limits`, weeks in `exposure_weekly`.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from monreq.domain import plausible
from monreq.domain.refusals import NothingHeard, NothingMeasured, UnknownRule

RuleName = Literal["niosh", "osha", "eu"]
Segments = Iterable[tuple[float, float]]

WORKDAY_H = 8.0
FULL_DOSE_PERCENT = 100.0


@dataclass(frozen=True, slots=True)
class Rule:
    """How a rule trades level for time.

    Attributes:
        criterion_dba: The level that is allowed for eight hours. [dB(A)]
        factor, per_db: By how much allowed time shrinks, and for how many dB more. [1, dB]
        average_per_decade_db: What ten times the dose adds to the time-weighted average. [dB]
    """

    criterion_dba: float
    factor: float
    per_db: float
    average_per_decade_db: float

    def energy(self, change_db: float) -> float:
        """Return how many times as fast a dose grows after a change [dB], endless where floats end."""
        try:
            return float(self.factor ** (change_db / self.per_db))
        except OverflowError:
            return math.inf


_RULES: Mapping[str, Rule] = MappingProxyType(
    {
        "niosh": Rule(85.0, 2.0, 3.0, 10.0),  # NIOSH 98-126: 85 dBA, 3 dB exchange, TWA = 10 lg(D/100) + 85
        "osha": Rule(90.0, 2.0, 5.0, 5 / math.log10(2)),  # 29 CFR 1910.95 App. A: prints 16.61 for 5 / lg 2
        "eu": Rule(85.0, 10.0, 10.0, 10.0),  # 2003/10/EC: energy over 8 h, against the upper action value
    }
)


def rule_named(rule: RuleName) -> Rule:
    """Return a rule's figures.

    Raises:
        UnknownRule: There is none of this name.
    """
    if rule not in _RULES:
        raise UnknownRule
    return _RULES[rule]


def allowed_hours(level_dba: float, rule: RuleName) -> float:
    """Return how long a level at the ear fills the dose of a day: the bare formula, without threshold or ceiling.

    Args:
        level_dba: Any finite level. [dB(A)]
        rule: "eu" is the time up to the upper action value, 85 dB(A) over 8 h.

    Returns:
        The time; 0 or endless where floats end. [h]

    Raises:
        NotAFigure: The level is not finite.
        UnknownRule: There is none of this name.

    References:
        NIOSH 98-126: 8 / 2^((L - 85) / 3). 29 CFR 1910.95 App. A: 8 / 2^((L - 90) / 5).
        2003/10/EC with ISO 1999: 8 / 10^((L - 85) / 10).
    """
    chosen = rule_named(rule)
    return WORKDAY_H * chosen.energy(chosen.criterion_dba - plausible.figure(level_dba))


def time_factor(change_db: float, rule: RuleName) -> float:
    """Return how allowed time multiplies when a level changes [dB]: by a half for 3 dB more under "niosh".

    For in-ears it can be told from drift alone, if the pack's volume and the playing are unchanged.

    Raises:
        NotAFigure, BeyondBelief: The change is not finite, or beyond 120 dB.
        UnknownRule: There is no rule of this name.

    References:
        As `allowed_hours`.
    """
    return rule_named(rule).energy(-plausible.db(change_db))


def dose_percent(segments: Segments, rule: RuleName) -> float:
    """Return how much of a day's allowance was used: an estimate.

    Every level counts, also one below a rule's threshold, which errs to the careful side.

    Args:
        segments: Levels at the ear and how long each was heard. [dB(A), h]
        rule: "eu" is measured against the upper action value.

    Returns:
        The dose; 100 is a full day's. [%]

    Raises:
        NothingMeasured: There is no segment.
        NotAFigure, NoSoundLevel, TimeOutOfRange: A level or time is none that can occur.
        UnknownRule: There is none of this name.

    References:
        NIOSH 98-126 and 29 CFR 1910.95 App. A: D = 100 (C1/T1 + C2/T2 + ...).
    """
    chosen = rule_named(rule)
    days = [
        plausible.hours(hours)
        / WORKDAY_H
        * chosen.energy(plausible.sound_level_dba(level) - chosen.criterion_dba)
        for level, hours in segments
    ]
    if not days:
        raise NothingMeasured
    return FULL_DOSE_PERCENT * math.fsum(days)


def time_weighted_average(dose: float, rule: RuleName) -> float:
    """Return the level that would give the same dose over eight hours. [dB(A)].

    Args:
        dose: A dose under this rule, above zero. [%]
        rule: The rule it was reckoned by.

    Raises:
        NothingHeard: The dose is not above zero.
        NotAFigure: The dose is not finite.
        UnknownRule: There is no rule of this name.

    References:
        NIOSH 98-126: 10 lg(D / 100) + 85. 29 CFR 1910.95 App. A: 16.61 lg(D / 100) + 90.
    """
    chosen = rule_named(rule)
    if plausible.figure(dose) <= 0:
        raise NothingHeard
    return chosen.criterion_dba + chosen.average_per_decade_db * math.log10(dose / FULL_DOSE_PERCENT)


def daily_exposure_level(segments: Segments) -> float:
    """Return LEX,8h: the level that would bring the same sound energy in eight hours. [dB(A)].

    Args:
        segments: Levels at the ear and how long each was heard. [dB(A), h]

    Raises:
        NothingMeasured, NothingHeard: There is no segment, or none has any time.
        NotAFigure, NoSoundLevel, TimeOutOfRange: A level or time is none that can occur.

    References:
        ISO 1999: LEX,8h = 10 lg(sum of T 10^(L/10) / 8).
    """
    return time_weighted_average(dose_percent(segments, "eu"), "eu")


def hours_left(dose: float, level_dba: float, rule: RuleName) -> float:
    """Return how long a level may still last until a day's dose is full: an estimate. [h].

    Args:
        dose: The dose so far; 0 before anything was heard. [%]
        level_dba: The level at the ear from now on. [dB(A)]
        rule: The rule that both are reckoned by.

    Raises:
        NotAFigure, NoSoundLevel: The dose is not finite or the level none that can occur.
        UnknownRule: There is no rule of this name.
    """
    left = max(0.0, 1 - plausible.figure(dose) / FULL_DOSE_PERCENT)
    return min(left, 1.0) * allowed_hours(plausible.sound_level_dba(level_dba), rule)
