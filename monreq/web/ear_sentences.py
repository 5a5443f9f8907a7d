"""What is said of one ear in the same words at the desk and on the phone: functions of the state alone."""

from monreq.domain.decibels import to_db
from monreq.domain.drifts import NOTICED_DB
from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.ear_forecast import Forecast, last_forecast
from monreq.domain.ear_levels import level_at_ear
from monreq.domain.exposure import RuleName, time_factor
from monreq.domain.exposure_limits import is_above_ceiling, steady_ceiling
from monreq.domain.show import Show
from monreq.web import exposure_words as words
from monreq.web.clock import local_time
from monreq.web.speech import _, listed


def basis(show: Show) -> str:
    """Return the rule of a show, and which of its values fills a day."""
    return _(words.BASES[show.settings.exposure_rule])


def level_line(show: Show, mix: str, level_dba: float) -> str:
    """Return the level at the ear [dB(A)], and where it was read if no rule may be held against it."""
    level = words.sound_level(level_dba)
    if show.ear_levels[mix][-1].is_comparable:
        return level
    return _("%(level)s as read in the ear canal or coupler", level=level)


def none_above(rule: RuleName) -> str:
    """Return that a rule permits no time at all above its table's end."""
    limit = steady_ceiling(rule)
    return "" if limit is None else _("none: above %(level)s", level=words.sound_level(limit.figure))


def dose_line(show: Show, mix: str) -> str:
    """Return the estimate of a dose that the guard goes by, as of the show's last event; empty where there is none."""
    found = ear_exposure(show, mix, show.at_ms)
    if found is None or found.dose_percent is None:
        return ""
    return words.between(found.dose_percent, words.percent)


def forecast_line(show: Show, mix: str) -> str:
    """Return when the day is full; empty where that is not told."""
    level, rule = level_at_ear(show, mix), show.settings.exposure_rule
    if level is not None and show.ear_levels[mix][-1].is_comparable and is_above_ceiling(level, rule):
        return _("Time left: %(none)s (%(rule)s).", none=none_above(rule), rule=basis(show))
    found = last_forecast(show, mix)
    if found is None:
        return ""
    if found.is_full:
        return _("The day is full (%(rule)s).", rule=basis(show))
    if found.is_far:
        return _far(show, found)
    return _of_now(show, found) if found.rising_ms is None else _if_it_rises(show, found, found.rising_ms)


def trend_line(show: Show, mix: str) -> str:
    """Return what became of the time since the level was measured, where a rule can say no more than that."""
    level, measured = level_at_ear(show, mix), show.ear_levels[mix][-1]
    if level is None or measured.is_comparable:
        return ""
    change = level - to_db(measured.level_tenths)
    if change < NOTICED_DB:
        return _("Not noticeably louder than when it was measured.")
    return _(
        "It may last %(part)s of the time that it could when it was measured (%(rule)s).",
        part=words.part(time_factor(change, show.settings.exposure_rule)),
        rule=basis(show),
    )


def _far(show: Show, found: Forecast) -> str:
    """Say what little is told of a day that lasts, if the level was read right and stays."""
    if found.rising_ms is not None:
        return _(
            "If it goes on rising as in the half hour before %(now)s, the day is full at about %(rising)s (%(rule)s).",
            now=local_time(found.as_of_ms),
            rising=local_time(found.rising_ms),
            rule=basis(show),
        )
    return _(
        "At this level the day may be full as early as %(time)s (%(rule)s).",
        time=local_time(found.earliest_ms),
        rule=basis(show),
    )


def _of_now(show: Show, found: Forecast) -> str:
    return _(
        "At this level the day is full at about %(when)s (%(rule)s).", when=_when(found), rule=basis(show)
    )


def _if_it_rises(show: Show, found: Forecast, rising_ms: int) -> str:
    return _(
        "If it goes on rising as in the half hour before %(now)s, the day is full at about %(rising)s; at this level at "
        "about %(when)s (%(rule)s).",
        now=local_time(found.as_of_ms),
        rising=local_time(rising_ms),
        when=_when(found),
        rule=basis(show),
    )


def _when(found: Forecast) -> str:
    """Return the minute at which the day is full, and the earliest one where that is another."""
    at, early = local_time(found.full_ms), local_time(found.earliest_ms)
    if found.earliest_ms <= found.as_of_ms:
        return listed((at, _("perhaps already")))
    return at if early == at else listed((at, _("perhaps as early as %(time)s", time=early)))
