"""The level at an ear, from the last one that was measured there and how much louder its mix became since.

What counts is the power that reaches the louder ear: every source, click and talkback included, by where it is panned
(`ears`). In a wedge only raises count, since the sound from the stage stays when the mix goes down.
"""

from dataclasses import replace
from typing import Final

from monreq.domain import plausible
from monreq.domain.decibels import to_db
from monreq.domain.ears import louder_ear_db
from monreq.domain.readings import EarLevel
from monreq.domain.setup import Output
from monreq.domain.show import Show

Measured = tuple[EarLevel, ...]

DAY_MS: Final = 24 * 60 * 60 * 1000  # a dose is a day's: a level measured after that begins another


def change_heard(show: Show, mix: str) -> float | None:
    """Return how much louder a mix is at the louder ear than when its level was measured; None while nothing is heard. [dB].

    Of a show that was closed nothing is heard any more.
    """
    return _change(show, mix) if show.is_open else None


def level_at_ear(show: Show, mix: str) -> float | None:
    """Return the level at the louder ear now, as estimated from the last one measured. [dB(A)].

    Returns:
        None where none was measured, and while an in-ear pair is silent.

    Raises:
        UnknownMix: There is none of this id.
    """
    return level_raised(show, mix, 0.0)


def level_raised(show: Show, mix: str, raise_db: float) -> float | None:
    """Return what the level at the louder ear would be after a raise there [dB], as `level_at_ear`. [dB(A)]."""
    show.mix(mix)
    if mix not in show.ear_levels:
        return None
    change = _change(show, mix, raise_db)
    return None if change is None else bounded(to_db(show.ear_levels[mix][-1].level_tenths) + change)


def bounded(level_dba: float) -> float:
    """Return the nearest level that can occur. [dB(A)]."""
    return min(max(level_dba, 0.0), plausible.LOUDEST_DBA)


def on_to(measured: Measured, now_ms: int) -> Measured:
    """Return the levels of a day with what was heard up to now; nothing counts after the day is over."""
    if not measured:
        return ()
    *earlier, last = measured
    return (*earlier, replace(last, course=last.course.on_to(_within_day(measured, now_ms))))


def turned_to(measured: Measured, at_ms: int, change_db: float | None) -> Measured:
    """Return the levels of a day with how loud it is from a moment on. [dB]."""
    *earlier, last = measured
    return (*earlier, replace(last, course=last.course.turned(_within_day(measured, at_ms), change_db)))


def _within_day(measured: Measured, at_ms: int) -> int:
    return min(at_ms, measured[0].at_ms + DAY_MS)


def _change(show: Show, mix: str, raise_db: float = 0.0) -> float | None:
    is_wedge = show.mixes[mix].output is Output.WEDGE
    then = show.ear_levels[mix][-1]
    was = louder_ear_db(show.sources, then.levels, then.gains)
    is_now = louder_ear_db(show.sources, show.levels[mix], show.gains)
    if is_now is None and not is_wedge:
        return None
    change = raise_db if was is None or is_now is None else is_now - was + raise_db
    return max(0.0, change) if is_wedge else change
