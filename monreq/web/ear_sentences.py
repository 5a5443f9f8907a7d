"""What is said of one ear in the same words at the desk and on the phone: functions of the state alone."""

from dataclasses import dataclass
from itertools import pairwise

from monreq.domain.decibels import to_db
from monreq.domain.drifts import NOTICED_DB
from monreq.domain.ear_exposure import ear_exposure
from monreq.domain.ear_forecast import Forecast, last_forecast
from monreq.domain.ear_levels import DAY_MS, level_at_ear
from monreq.domain.exposure import RuleName, time_factor
from monreq.domain.exposure_limits import is_above_ceiling, steady_ceiling
from monreq.domain.show import Show
from monreq.web import exposure_words as words
from monreq.web.clock import local_time
from monreq.web.speech import _, listed


@dataclass(frozen=True, slots=True)
class Timed:
    """A sentence, and between which moments it holds while nothing changes. [ms since 1970, UTC].

    Attributes:
        until_ms: 0 where it has no end.
    """

    text: str
    from_ms: int = 0
    until_ms: int = 0

    def holds_at(self, at_ms: int) -> bool:
        """Whether it holds at a time."""
        return self.from_ms <= at_ms and not 0 < self.until_ms <= at_ms


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


def forecast_lines(show: Show, mix: str) -> tuple[Timed, ...]:
    """Return what is said of when the day is full, one sentence after another while nothing changes; none where that is not told."""
    level, rule = level_at_ear(show, mix), show.settings.exposure_rule
    if level is not None and show.ear_levels[mix][-1].is_comparable and is_above_ceiling(level, rule):
        return (Timed(_("Time left: %(none)s (%(rule)s).", none=none_above(rule), rule=basis(show))),)
    found = last_forecast(show, mix)
    if found is None:
        return ()
    ends_ms = show.ear_levels[mix][0].at_ms + DAY_MS
    turns = (found.earliest_ms, found.rising_earliest_ms, found.rising_ms, found.full_ms)
    moments = [found.as_of_ms, *sorted({one for one in turns if one and found.as_of_ms < one < ends_ms})]
    told = [(one, _said(show, found, one)) for one in moments]
    turns_to = [now for before, now in pairwise(told) if now[1] != before[1]]
    begins = [(0, told[0][1]), *turns_to]
    ends = [*(one for one, _text in turns_to), ends_ms]
    return tuple(
        Timed(text, from_ms, until_ms) for (from_ms, text), until_ms in zip(begins, ends, strict=True) if text
    )


def forecast_line(show: Show, mix: str, at_ms: int | None = None) -> str:
    """Return when the day is full, as said at a time, or when the mix last changed; empty where that is not told."""
    lines = forecast_lines(show, mix)
    if at_ms is None:
        return lines[0].text if lines else ""
    return next((line.text for line in lines if line.holds_at(at_ms)), "")


def _said(show: Show, found: Forecast, at_ms: int) -> str:
    """Return what is said at a time if nothing changed since the forecast: then the level does not rise any more."""
    if found.full_ms <= at_ms:
        return _("The day is full (%(rule)s).", rule=basis(show))
    if found.rising_earliest_ms is not None and at_ms < (found.rising_ms or found.rising_earliest_ms):
        return _if_it_rises(show, found, at_ms)
    if not found.is_far:
        when = _when(found.full_ms, found.earliest_ms, at_ms)
        return _("At this level the day is full at about %(when)s (%(rule)s).", when=when, rule=basis(show))
    if found.is_quiet:
        return ""
    if found.earliest_ms <= at_ms:
        return _("The day may be full already (%(rule)s).", rule=basis(show))
    return _(
        "At this level the day may be full as early as %(time)s (%(rule)s).",
        time=local_time(found.earliest_ms),
        rule=basis(show),
    )


def _if_it_rises(show: Show, found: Forecast, at_ms: int) -> str:
    now = local_time(found.as_of_ms)
    early_ms = found.rising_earliest_ms or found.earliest_ms
    if found.rising_ms is None:
        return _(
            "If it goes on rising as in the half hour before %(now)s, the day may be full as early as %(time)s (%(rule)s).",
            now=now,
            time=local_time(early_ms),
            rule=basis(show),
        )
    rising = _when(found.rising_ms, early_ms, at_ms)
    if found.is_far:
        return _(
            "If it goes on rising as in the half hour before %(now)s, the day is full at about %(rising)s (%(rule)s).",
            now=now,
            rising=rising,
            rule=basis(show),
        )
    return _(
        "If it goes on rising as in the half hour before %(now)s, the day is full at about %(rising)s; at this level at "
        "about %(when)s (%(rule)s).",
        now=now,
        rising=rising,
        when=_when(found.full_ms, found.earliest_ms, at_ms),
        rule=basis(show),
    )


def _when(full_ms: int, earliest_ms: int, at_ms: int) -> str:
    """Return the minute at which the day is full, and the earliest one where that is another."""
    at, early = local_time(full_ms), local_time(earliest_ms)
    if earliest_ms <= at_ms:
        return listed((at, _("perhaps already")))
    return at if early == at else listed((at, _("perhaps as early as %(time)s", time=early)))


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
