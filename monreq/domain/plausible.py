"""Which figures are taken to reckon with at all: finite ones that can occur, anything else is refused in words."""

import math
from collections.abc import Iterable, Mapping

from monreq.domain.refusals import (
    BeyondBelief,
    NoDistance,
    NoOpenMics,
    NoSoundLevel,
    NotAFigure,
    TimeOutOfRange,
)

MOST_DB = 120.0  # chosen: wider than the range of any desk
LOUDEST_DBA = 194.0  # a wave that swings by the whole pressure of the air, 101325 Pa against 20 uPa
LONGEST_H = 168.0  # chosen: a week, the longest time over which exposure is reckoned
FARTHEST_M = 10_000.0  # chosen: beyond every stage and every published table
MOST_MICS = 1000  # chosen: beyond every stage


def figure(value: float) -> float:
    """Return a finite figure as it is.

    Raises:
        NotAFigure: It is infinite or not a number.
    """
    try:
        is_finite = math.isfinite(value)
    except OverflowError as too_large:
        raise NotAFigure from too_large
    if not is_finite:
        raise NotAFigure
    return value


def total(values: Iterable[float]) -> float:
    """Return the sum of finite figures, exactly rounded.

    Raises:
        NotAFigure: It is more than every number.
    """
    try:
        return math.fsum(values)
    except OverflowError as too_large:
        raise NotAFigure from too_large


def db(value: float) -> float:
    """Return a level or change on a desk [dB] as it is.

    Raises:
        NotAFigure: It is infinite or not a number.
        BeyondBelief: It lies beyond 120 dB either way.
    """
    if abs(figure(value)) > MOST_DB:
        raise BeyondBelief
    return value


def nearest_db(value: float) -> float:
    """Return the level [dB] nearest to a finite one that is taken: what lies 120 dB down is heard by nobody."""
    return max(-MOST_DB, min(MOST_DB, value))


def all_db(values: Iterable[float]) -> list[float]:
    """Return levels or changes [dB] as they are, each refused as `db` refuses it."""
    return [db(value) for value in values]


def mapped_db(levels: Mapping[str, float]) -> dict[str, float]:
    """Return a mapping to levels or changes [dB] as it is, each refused as `db` refuses it."""
    return {source: db(level) for source, level in levels.items()}


def sound_level_dba(value: float) -> float:
    """Return a sound level at the ear [dB(A) re 20 uPa] as it is.

    A level below zero is refused too: it is most likely a fader's.

    Raises:
        NotAFigure: It is infinite or not a number.
        NoSoundLevel: It lies outside 0 to 194 dB(A).
    """
    if not 0 <= figure(value) <= LOUDEST_DBA:
        raise NoSoundLevel
    return value


def hours(value: float) -> float:
    """Return a time [h] as it is.

    Raises:
        NotAFigure: It is infinite or not a number.
        TimeOutOfRange: It is negative or longer than a week.
    """
    if not 0 <= figure(value) <= LONGEST_H:
        raise TimeOutOfRange
    return value


def distance_m(value: float) -> float:
    """Return a distance [m] as it is.

    Raises:
        NotAFigure: It is infinite or not a number.
        NoDistance: It is not above zero, or farther than 10 km.
    """
    if not 0 < figure(value) <= FARTHEST_M:
        raise NoDistance
    return value


def open_mics(number: int) -> int:
    """Return a number of open mics as it is.

    Raises:
        NoOpenMics: It is less than one, no whole number, or more than 1000.
    """
    if not 1 <= number <= MOST_MICS or number != int(number):
        raise NoOpenMics
    return number
