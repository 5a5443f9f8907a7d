"""Exposure over a week: the points of the UK and EU, and the weekly allowance for listening. Estimates."""

import math
from collections.abc import Iterable

from monreq.domain import plausible
from monreq.domain.exposure import Segments, dose_percent
from monreq.domain.refusals import NothingHeard, NothingMeasured

WEEKLY_POINTS = 500.0  # five days of 100 points, each at 85 dB(A) over 8 h
UPPER_ACTION_DBA = 85.0  # 2003/10/EC Art. 3(1)
ALLOWANCE_H = 40.0  # ITU-T H.870 with WHO: 80 dB(A) for 40 hours a week
ADULTS_DBA = 80.0
CHILDREN_DBA = 75.0  # the same source, for children and sensitive listeners
HALVING_DB = 3.0


def daily_points(segments: Segments) -> float:
    """Return a day's points: 100 for eight hours of 85 dB(A).

    Args:
        segments: Levels at the ear and how long each was heard. [dB(A), h]

    Raises:
        NothingMeasured, NotAFigure, NoSoundLevel, TimeOutOfRange: As `exposure.dose_percent`.

    References:
        HSE exposure points: 100 * 10^((L - 85) / 10) * T / 8, the dose against the upper action value in percent.
    """
    return dose_percent(segments, "eu")


def points_of_day(daily_level_dba: float) -> float:
    """Return the points of a day whose LEX,8h [dB(A)] is known.

    The reckoner prints rounded figures, as 65 for 83 dB(A), which is 63.1.

    Raises:
        NotAFigure, NoSoundLevel: The level is none that can occur.

    References:
        HSE weekly ready-reckoner, 2020: 100 * 10^((L - 85) / 10).
    """
    return daily_points([(daily_level_dba, 8.0)])


def weekly_level(points_of_days: Iterable[float]) -> float:
    """Return the weekly exposure level of a working week of up to seven days. [dB(A)].

    Args:
        points_of_days: The points of each day, zero or more.

    Raises:
        NothingMeasured: There is no day.
        NothingHeard: All the days together have no points above zero.
        NotAFigure: The points of a day, or of all days together, are not finite.

    References:
        HSE weekly ready-reckoner, 2020: 500 points are 85 dB(A); 85 + 10 lg(points / 500).
    """
    points = [plausible.figure(of_day) for of_day in points_of_days]
    if not points:
        raise NothingMeasured
    if min(points) < 0 or (total := plausible.total(points)) == 0:
        raise NothingHeard
    return UPPER_ACTION_DBA + 10 * math.log10(total / WEEKLY_POINTS)


def allowance_hours(level_dba: float, allowance_dba: float = ADULTS_DBA) -> float:
    """Return how long a week a level at the ear may last within the weekly allowance for listening. [h].

    Args:
        level_dba: The level at the ear. [dB(A)]
        allowance_dba: The level that is allowed for 40 hours, 80 for adults, 75 for children. [dB(A)]

    Raises:
        NotAFigure, NoSoundLevel: A level is none that can occur.

    References:
        ITU-T H.870 with WHO: 80 dB(A) for 40 h a week; 40 / 2^((L - 80) / 3), its own table was not seen.
    """
    above_db = plausible.sound_level_dba(level_dba) - plausible.sound_level_dba(allowance_dba)
    return ALLOWANCE_H / float(2 ** (above_db / HALVING_DB))


def allowance_percent(segments: Segments, allowance_dba: float = ADULTS_DBA) -> float:
    """Return how much of the weekly allowance for listening was used; 100 is all of it. [%].

    Args:
        segments: Levels at the ear and how long each was heard this week. [dB(A), h]
        allowance_dba: As `allowance_hours`. [dB(A)]

    Raises:
        NothingMeasured: There is no segment.
        NotAFigure, NoSoundLevel, TimeOutOfRange: A level or time is none that can occur.
    """
    used = [plausible.hours(hours) / allowance_hours(level, allowance_dba) for level, hours in segments]
    if not used:
        raise NothingMeasured
    return 100 * math.fsum(used)
