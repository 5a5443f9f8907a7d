"""What a level measured at the ear comes to over an evening: dose so far and time left, all of it estimated.

The level at the ear is the one measured plus how much louder the mix became since, if the pack's volume and the playing
are unchanged. In a wedge only raises count, since the sound from the stage stays when the mix goes down. Every minute
counts as played, the gaps between songs too, which errs to the careful side; click and talkback count as they were.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from monreq.domain import plausible
from monreq.domain.decibels import to_db
from monreq.domain.drifts import change_since, standing
from monreq.domain.events import Recorded
from monreq.domain.exposure import RuleName, dose_percent, hours_left
from monreq.domain.exposure_weekly import allowance_percent, daily_points
from monreq.domain.fold import fold
from monreq.domain.fold_measuring import DAY_MS
from monreq.domain.readings import EarLevel
from monreq.domain.setup import Output
from monreq.domain.show import Show

Segment = tuple[float, float]
MS_PER_HOUR = 3_600_000


@dataclass(frozen=True, slots=True)
class EarExposure:
    """An estimate of what an ear had since the first level of the day was measured.

    Attributes:
        rule: By which dose and time are reckoned.
        since_ms: When counting began. [ms since 1970, UTC]
        counted_h: How long sound was counted. [h]
        level_dba: At the ear now; None while the mix is silent. [dB(A)]
        dose_percent: Of a day's allowance. [%]
        left_h: How long the level of now may last; None while the mix is silent. [h]
        points: So far today, of the UK and EU. [1]
        allowance_percent: Of a week's allowance for listening, so far today. [%]
        is_day_over: Whether counting ended because a day has passed.
    """

    rule: RuleName
    since_ms: int
    counted_h: float
    level_dba: float | None
    dose_percent: float
    left_h: float | None
    points: float
    allowance_percent: float
    is_day_over: bool


def level_at_ear(show: Show, mix: str) -> float | None:
    """Return the level at the ear now, as estimated from the last one measured. [dB(A)].

    Returns:
        None where none was measured, and while an in-ear pair is silent.

    Raises:
        UnknownMix: There is none of this id.
    """
    show.mix(mix)
    measured = show.ear_levels.get(mix)
    return _level(show, mix, measured[-1]) if measured else None


def ear_exposure(
    show: Show, mix: str, begin: Show, log: Iterable[Recorded], now_ms: int
) -> EarExposure | None:
    """Return what an ear had since the first level of the day was measured.

    Args:
        show: The show now.
        mix: The id of one of its mixes.
        begin: The show as it was when that level was entered, at the revision that the level names.
        log: All that was recorded after that, up to the show now.
        now_ms: The time. [ms since 1970, UTC]

    Returns:
        None where no level was measured.

    Raises:
        UnknownMix: There is none of this id.
    """
    show.mix(mix)
    measured = show.ear_levels.get(mix)
    if not measured:
        return None
    end_ms = measured[0].at_ms + DAY_MS
    segments = _segments(mix, measured, begin, log, now_ms)
    rule, level = show.settings.exposure_rule, level_at_ear(show, mix)
    dose = dose_percent(segments, rule) if segments else 0.0
    return EarExposure(
        rule=rule,
        since_ms=measured[0].at_ms,
        counted_h=sum(hours for _, hours in segments),
        level_dba=level,
        dose_percent=dose,
        left_h=None if level is None else hours_left(dose, level, rule),
        points=daily_points(segments) if segments else 0.0,
        allowance_percent=allowance_percent(segments) if segments else 0.0,
        is_day_over=now_ms >= end_ms,
    )


def _segments(
    mix: str, measured: Sequence[EarLevel], show: Show, log: Iterable[Recorded], now_ms: int
) -> list[Segment]:
    """Return the levels at the ear and how long each lasted; a show that was closed stops the clock.

    A clock that was set back stands still until it has caught up.
    """
    segments: list[Segment] = []
    from_ms = measured[0].at_ms
    end_ms = from_ms + DAY_MS
    for recorded in log:
        at_ms = min(max(from_ms, recorded.at_ms), end_ms)
        segments += _segment(show, mix, measured, at_ms - from_ms)
        show, from_ms = fold(show, [recorded]), at_ms
    if show.is_open:
        segments += _segment(show, mix, measured, min(now_ms, end_ms) - from_ms)
    return segments


def _segment(show: Show, mix: str, measured: Sequence[EarLevel], took_ms: int) -> list[Segment]:
    if took_ms <= 0:
        return []
    *_, in_force = (one for one in measured if one.revision <= show.revision)
    level = _level(show, mix, in_force)
    return [] if level is None else [(level, took_ms / MS_PER_HOUR)]


def _level(show: Show, mix: str, measured: EarLevel) -> float | None:
    is_wedge = show.mixes[mix].output is Output.WEDGE
    if not is_wedge and not standing(show.levels[mix], show.gains):
        return None
    change = change_since(show, mix, measured.sends, measured.output_tenths) or 0.0
    level = to_db(measured.level_tenths) + (max(0.0, change) if is_wedge else change)
    return min(max(level, 0.0), plausible.LOUDEST_DBA)
