"""Listening times, doses and rules put into words, always rounded to the careful side where it matters."""

import math
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction

from monreq.domain.exposure import RuleName
from monreq.domain.exposure_uncertainty import Estimate
from monreq.domain.readings import EarMethod
from monreq.web.speech import ENGLISH, N_, _, decimal, language, listed

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
    minutes = whole_minutes(hours)
    if minutes == 0:
        return _("less than a minute")
    whole_h, rest = divmod(minutes, _MINUTES_PER_H)
    if not whole_h:
        return _("%(minutes)s min", minutes=rest)
    if not rest:
        return _("%(hours)s h", hours=whole_h)
    return _("%(hours)s h %(minutes)s min", hours=whole_h, minutes=rest)


def about_time(hours: float) -> str:
    """Return an estimated time: about 3 h 20 min; what is said in words already is no more about."""
    said = duration(hours)
    return said if _is_vague(hours) else _("about %(time)s", time=said)


def between_times(estimate: Estimate) -> str:
    """Return a time and between which others it lies: about 1 h, between 20 min and 2 h."""
    about, low, high = (duration(hours) for hours in (estimate.about, estimate.low, estimate.high))
    if low == high:
        return _("no time") if estimate.high <= 0 else about
    if not (_is_vague(estimate.low) or _is_vague(estimate.high)):
        return _("about %(about)s, between %(low)s and %(high)s", about=about, low=low, high=high)
    return listed((about_time(estimate.about), *_ends(estimate)))


def _ends(estimate: Estimate) -> Iterator[str]:
    """Give the ends of a range of which one is none, less than a minute or a day or more, where they say more."""
    about, low, high = (duration(hours) for hours in (estimate.about, estimate.low, estimate.high))
    if high != about and not _is_vague(estimate.high):
        yield _("at most %(time)s", time=high)
    if estimate.low <= 0 < estimate.about:
        yield _("perhaps none")
    elif low != about:
        yield (
            _("perhaps only %(time)s", time=low)
            if not _is_vague(estimate.low)
            else _("perhaps less than a minute")
        )


def _is_vague(hours: float) -> bool:
    return hours >= _LONGEST_H or whole_minutes(hours) == 0


def whole_minutes(hours: float) -> int:
    """Return a time rounded down. [min]."""
    return math.floor(hours * _MINUTES_PER_H + _HAIR)


def percent(value: float) -> str:
    """Return a share in percent, rounded up: 62 %."""
    return _("%(figure)s %%", figure=rounded_up(value))


def rounded_up(value: float) -> str:
    """Return a figure of which more is worse as a whole number, rounded up: 12.1 is 13."""
    return str(math.ceil(value - _HAIR))


def between(estimate: Estimate, say: Callable[[float], str]) -> str:
    """Return a figure and between which others it lies, in words: about 40 %, between 15 % and 112 %."""
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
