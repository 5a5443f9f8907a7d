"""Listening times, doses and rules put into words, always rounded to the careful side where it matters."""

import math
from collections.abc import Mapping
from fractions import Fraction

from monreq.domain.exposure import RuleName
from monreq.domain.readings import EarMethod

RULES: Mapping[RuleName, str] = {"niosh": "NIOSH", "osha": "OSHA", "eu": "EU and UK"}

METHODS: Mapping[EarMethod, str] = {
    EarMethod.COUPLER: "in an ear simulator or coupler",
    EarMethod.AT_THE_EAR: "at the ear while playing",
    EarMethod.OTHER: "another way, in words",
}

_PARTS: Mapping[Fraction, str] = {
    Fraction(9, 10): "nine tenths",
    Fraction(4, 5): "four fifths",
    Fraction(3, 4): "three quarters",
    Fraction(2, 3): "two thirds",
    Fraction(3, 5): "three fifths",
    Fraction(1, 2): "a half",
    Fraction(2, 5): "two fifths",
    Fraction(1, 3): "a third",
    Fraction(1, 4): "a quarter",
    Fraction(1, 5): "a fifth",
    Fraction(1, 6): "a sixth",
    Fraction(1, 8): "an eighth",
    Fraction(1, 10): "a tenth",
}
_LEAST_PART = 0.095  # what still rounds to a tenth
_LONGEST_H = 24
_MINUTES_PER_H = 60
_HAIR = 1e-6  # sums of times end a hair beside the minute they mean


def part(factor: float) -> str:
    """Return a share of a whole, above 0 and below 1, as the nearest that people say: three fifths."""
    if factor < _LEAST_PART:
        return "less than a tenth"
    return _PARTS[min(_PARTS, key=lambda one: abs(one - factor))]


def duration(hours: float) -> str:
    """Return a time in hours and minutes, rounded down: 3 h 20 min."""
    if hours >= _LONGEST_H:
        return "a day or more"
    minutes = math.floor(hours * _MINUTES_PER_H + _HAIR)
    if minutes == 0:
        return "less than a minute"
    whole_h, rest = divmod(minutes, _MINUTES_PER_H)
    return " ".join([f"{whole_h} h"] * bool(whole_h) + [f"{rest} min"] * bool(rest))


def percent(value: float) -> str:
    """Return a share in percent, rounded up: 62 %."""
    return f"{math.ceil(value - _HAIR)} %"


def sound_level(dba: float) -> str:
    """Return a level at the ear in whole tenths: 94 dB(A), 94.5 dB(A)."""
    return f"{dba:.1f}".removesuffix(".0") + " dB(A)"


def possessive(name: str) -> str:
    """Return a name as an owner: Guitar's, Drums'."""
    return f"{name}'" if name.endswith("s") else f"{name}'s"
