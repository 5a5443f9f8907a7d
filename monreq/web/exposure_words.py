"""Listening times, doses and rules put into words, always rounded to the careful side where it matters."""

import math
from collections.abc import Callable, Mapping
from fractions import Fraction

from monreq.domain.exposure import RuleName
from monreq.domain.exposure_uncertainty import Estimate
from monreq.domain.readings import EarMethod
from monreq.web.speech import ENGLISH, N_, _, decimal, language

RULES: Mapping[RuleName, str] = {"niosh": "NIOSH", "osha": "OSHA", "eu": N_("EU and UK")}

BASES: Mapping[RuleName, str] = {**RULES, "eu": N_("EU and UK, upper action value")}
"""What a day is full by: the European directive allows no level, it says from which on something is to be done."""

METHODS: Mapping[EarMethod, str] = {
    EarMethod.COUPLER: N_("in an ear simulator or coupler"),
    EarMethod.AT_THE_EAR: N_("at the ear while playing"),
    EarMethod.OTHER: N_("another way, in words"),
}

_PARTS: Mapping[Fraction, str] = {
    Fraction(9, 10): N_("nine tenths"),
    Fraction(4, 5): N_("four fifths"),
    Fraction(3, 4): N_("three quarters"),
    Fraction(2, 3): N_("two thirds"),
    Fraction(3, 5): N_("three fifths"),
    Fraction(1, 2): N_("a half"),
    Fraction(2, 5): N_("two fifths"),
    Fraction(1, 3): N_("a third"),
    Fraction(1, 4): N_("a quarter"),
    Fraction(1, 5): N_("a fifth"),
    Fraction(1, 6): N_("a sixth"),
    Fraction(1, 8): N_("an eighth"),
    Fraction(1, 10): N_("a tenth"),
}
_LEAST_PART = 0.095  # what still rounds to a tenth
_LONGEST_H = 24
_MINUTES_PER_H = 60
_HAIR = 1e-6  # sums of times end a hair beside the minute they mean


def part(factor: float) -> str:
    """Return a share of a whole, above 0 and below 1, as the nearest that people say: three fifths."""
    if factor < _LEAST_PART:
        return _("less than a tenth")
    return _(_PARTS[min(_PARTS, key=lambda one: abs(one - factor))])


def duration(hours: float) -> str:
    """Return a time in hours and minutes, rounded down: 3 h 20 min."""
    if hours >= _LONGEST_H:
        return _("a day or more")
    minutes = math.floor(hours * _MINUTES_PER_H + _HAIR)
    if minutes == 0:
        return _("less than a minute")
    whole_h, rest = divmod(minutes, _MINUTES_PER_H)
    if not whole_h:
        return _("%(minutes)s min", minutes=rest)
    if not rest:
        return _("%(hours)s h", hours=whole_h)
    return _("%(hours)s h %(minutes)s min", hours=whole_h, minutes=rest)


def percent(value: float) -> str:
    """Return a share in percent, rounded up: 62 %."""
    return _("%(figure)s %%", figure=math.ceil(value - _HAIR))


def between(estimate: Estimate, say: Callable[[float], str]) -> str:
    """Return a figure and between which others it lies, in words: about 1 h, between 20 min and 2 h."""
    about, low, high = (say(figure) for figure in (estimate.about, estimate.low, estimate.high))
    if low == high:
        return about
    return _("about %(about)s, between %(low)s and %(high)s", about=about, low=low, high=high)


def sound_level(dba: float) -> str:
    """Return a level at the ear in whole tenths: 94 dB(A), 94.5 dB(A)."""
    return _("%(figure)s dB(A)", figure=decimal(f"{dba:.1f}".removesuffix(".0")))


def possessive(name: str) -> str:
    """Return a name as an owner: Guitar's, Drums'; other languages build the phrase around the name as it is."""
    if language().code != ENGLISH:
        return name
    return f"{name}'" if name.endswith("s") else f"{name}'s"
