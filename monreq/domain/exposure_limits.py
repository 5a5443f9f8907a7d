"""Thresholds, action levels and ceilings of the exposure rules, each with where it stands and whether that was read."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from monreq.domain import plausible
from monreq.domain.exposure import RuleName, allowed_hours, rule_named


@dataclass(frozen=True, slots=True)
class Limit:
    """One figure of a rule.

    Attributes:
        figure: The figure, in the unit named.
        unit: Its unit.
        source: Where it stands.
        is_verified: Whether that was read; if not, it is told from memory and decides nothing alone.
    """

    figure: float
    unit: str
    source: str
    is_verified: bool = True


@dataclass(frozen=True, slots=True)
class DailyValue:
    """One of the three values of the European rule: a day's exposure level, and a peak.

    Attributes:
        name: The directive's word for it.
        level_dba: LEX,8h. [dB(A)]
        peak_pa: The peak pressure. [Pa, C-weighted]
        peak_dbc: The same as the UK regulations round it. [dB(C) re 20 uPa]
    """

    name: str
    level_dba: float
    peak_pa: float
    peak_dbc: float


EU_DAILY_VALUES = (
    DailyValue("lower exposure action value", 80.0, 112.0, 135.0),
    DailyValue("upper exposure action value", 85.0, 140.0, 137.0),
    DailyValue("exposure limit value", 87.0, 200.0, 140.0),
)

_THRESHOLDS: Mapping[str, Limit] = MappingProxyType(
    {
        "niosh": Limit(
            80.0, "dB(A)", "NIOSH 98-126; sources disagree, one textbook says 75", is_verified=False
        ),
        "osha": Limit(80.0, "dB(A)", "a textbook page on 29 CFR 1910.95, hearing conservation"),
    }
)
_CEILINGS: Mapping[str, Limit] = MappingProxyType(
    {
        "niosh": Limit(140.0, "dB(A)", "NIOSH 98-126, ch. 1; its draft of 1996 said 115", is_verified=False),
        "osha": Limit(140.0, "dB peak", "29 CFR 1910.95(b), 41 CFR 50-204.10"),
        "eu": Limit(140.0, "dB(C) peak", "2003/10/EC Art. 3(1): 200 Pa"),
    }
)
_STEADY_CEILINGS: Mapping[str, Limit] = MappingProxyType(
    {"osha": Limit(115.0, "dB(A)", "29 CFR 1910.95 Table G-16: ends at 115 dB(A), 1/4 h or less")}
)
_ACTION_LEVELS: Mapping[str, Limit] = MappingProxyType(
    {
        "niosh": Limit(85.0, "dB(A) over 8 h", "NIOSH 2015-184: the recommended exposure limit"),
        "osha": Limit(85.0, "dB(A) over 8 h", "29 CFR 1910.95(c): a dose of 50 %"),
        "eu": Limit(80.0, "dB(A) over 8 h", "2003/10/EC Art. 3(1): the lower exposure action value"),
    }
)


def threshold(rule: RuleName) -> Limit | None:
    """Return the level below which a rule's dosimeter counts nothing; None where the rule has none.

    Raises:
        UnknownRule: There is no rule of this name.
    """
    rule_named(rule)
    return _THRESHOLDS.get(rule)


def ceiling(rule: RuleName) -> Limit:
    """Return what must not be exceeded under a rule, however short.

    Raises:
        UnknownRule: There is no rule of this name.
    """
    rule_named(rule)
    return _CEILINGS[rule]


def steady_ceiling(rule: RuleName) -> Limit | None:
    """Return the steady level above which a rule permits no time at all; None where it names none that was read.

    Raises:
        UnknownRule: There is no rule of this name.
    """
    rule_named(rule)
    return _STEADY_CEILINGS.get(rule)


def is_above_ceiling(level_dba: float, rule: RuleName) -> bool:
    """Return whether a rule permits a steady level [dB(A)] for no time at all.

    Raises:
        UnknownRule: There is no rule of this name.
    """
    limit = steady_ceiling(rule)
    return limit is not None and level_dba > limit.figure


def hours_permitted(level_dba: float, rule: RuleName) -> float:
    """Return how long a level at the ear fills the dose of a day; none above the rule's steady ceiling. [h].

    Raises:
        NotAFigure, UnknownRule: As `exposure.allowed_hours`.
    """
    return 0.0 if is_above_ceiling(level_dba, rule) else allowed_hours(level_dba, rule)


def action_level(rule: RuleName) -> Limit:
    """Return the day's average from which on a rule wants something done.

    Raises:
        UnknownRule: There is no rule of this name.
    """
    rule_named(rule)
    return _ACTION_LEVELS[rule]


def value_reached(daily_level_dba: float) -> DailyValue | None:
    """Return the highest of the European values that a day's exposure level, LEX,8h [dB(A)], reaches; None below all.

    Raises:
        NotAFigure, NoSoundLevel: The level is none that can occur.
    """
    plausible.sound_level_dba(daily_level_dba)
    reached = [value for value in EU_DAILY_VALUES if value.level_dba <= daily_level_dba]
    return reached[-1] if reached else None
