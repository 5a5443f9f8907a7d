"""How exposure is reckoned under each rule, with examples."""

from typing import get_args

from monreq.domain import exposure_limits as limits
from monreq.domain import exposure_weekly as weekly
from monreq.domain.exposure import (
    FULL_DOSE_PERCENT,
    WORKDAY_H,
    RuleName,
    allowed_hours,
    daily_exposure_level,
    rule_named,
)
from monreq.web.ear_sentences import none_above
from monreq.web.exposure_cautions import of_rule
from monreq.web.exposure_words import RULES, duration, part
from monreq.web.reckoned import Reckoned, plain
from monreq.web.reckoned_ears import NO_LIMIT, TYPED_IN, ear_chapters
from monreq.web.speech import N_, _, unfilled

_LIMIT_TEXTS = (
    N_("lower exposure action value"),
    N_("upper exposure action value"),
    N_("exposure limit value"),
    N_("dB peak"),
    N_("dB(C) peak"),
    N_("dB(A) over 8 h"),
    N_("29 CFR 1910.95 Table G-16: ends at 115 dB(A), 1/4 h or less"),
    N_("NIOSH 98-126; sources disagree, one textbook says 75"),
    N_("a textbook page on 29 CFR 1910.95, hearing conservation"),
    N_("NIOSH 98-126, ch. 1; its draft of 1996 said 115"),
    N_("NIOSH 2015-184: the recommended exposure limit"),
    N_("29 CFR 1910.95(c): a dose of 50 %"),
    N_("2003/10/EC Art. 3(1): the lower exposure action value"),
)
"""Said by `_sourced` and for the European values: the words of `domain.exposure_limits`."""


def exposure_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about exposure, in the order of the page."""
    return (*ear_chapters(), *(_rule(rule) for rule in get_args(RuleName)), _values(), _week())


def _rule(name: RuleName) -> Reckoned:
    rule = rule_named(name)
    figures = {
        "workday": plain(WORKDAY_H),
        "criterion": plain(rule.criterion_dba),
        "step": plain(rule.per_db),
    }
    return Reckoned(
        anchor=f"rule-{name}",
        title=_("The rule of %(name)s", name=_(RULES[name])),
        says=_(_SAYS[name], part=part(1 / rule.factor), **figures),
        formulas=(
            _(
                _TIMES[name],
                factor=plain(rule.factor),
                **figures,
            ),
            _(
                "time-weighted average = %(per_decade)s lg(dose / 100 %%) + %(criterion)s",
                per_decade=plain(rule.average_per_decade_db, 2),
                **figures,
            ),
        ),
        examples=tuple(_allowed(level, name) for level in _EXAMPLES_DBA[name]),
        rests_on=(_(TYPED_IN), *_limits(name)),
        mind=(_(NO_LIMIT), *of_rule(name)),
        sources=(_(_SOURCES[name]),),
    )


_ALLOWED = N_(
    "%(criterion)s dB(A) are allowed for %(workday)s hours; %(step)s dB more leave %(part)s of the time."
)
_SAYS: dict[RuleName, str] = {
    "niosh": _ALLOWED,
    "osha": _ALLOWED,
    "eu": N_(
        "%(criterion)s dB(A) over %(workday)s hours are the upper action value; %(step)s dB more reach it in %(part)s of the "
        "time."
    ),
}
_TIME_ALLOWED = N_("time allowed = %(workday)s h / %(factor)s^((level - %(criterion)s) / %(step)s)")
_TIMES: dict[RuleName, str] = {
    "niosh": _TIME_ALLOWED,
    "osha": _TIME_ALLOWED,
    "eu": N_("time to the action value = %(workday)s h / %(factor)s^((level - %(criterion)s) / %(step)s)"),
}
_EXAMPLES_DBA: dict[RuleName, tuple[float, ...]] = {
    "niosh": (85.0, 94.0, 100.0),
    "osha": (85.0, 94.0, 100.0, 115.0, 116.0),
    "eu": (85.0, 94.0, 100.0),
}
_SOURCES: dict[RuleName, str] = {
    "niosh": N_("NIOSH publication 98-126, 1998."),
    "osha": N_("29 CFR 1910.95, Appendix A."),
    "eu": N_("Directive 2003/10/EC and ISO 1999; taken against its upper exposure action value."),
}


def _allowed(level_dba: float, rule: RuleName) -> str:
    is_above = limits.is_above_ceiling(level_dba, rule)
    time = none_above(rule) if is_above else duration(allowed_hours(level_dba, rule))
    return _("%(level)s dB(A): %(time)s", level=plain(level_dba), time=time)


def _limits(rule: RuleName) -> list[str]:
    told = [
        _("Never above: %(limit)s.", limit=_sourced(limits.ceiling(rule))),
        _("Something is to be done from: %(limit)s.", limit=_sourced(limits.action_level(rule))),
    ]
    steady = limits.steady_ceiling(rule)
    if steady is not None:
        told.append(_("No time at all above: %(limit)s.", limit=_sourced(steady)))
    threshold = limits.threshold(rule)
    if threshold is not None:
        told.append(
            _(
                "Below its threshold a rule's own meter counts nothing, monreq counts it: %(limit)s.",
                limit=_sourced(threshold),
            )
        )
    return told


def _sourced(limit: limits.Limit) -> str:
    figure, unit, source = plain(limit.figure), unfilled(limit.unit), unfilled(limit.source)
    if limit.is_verified:
        return _("%(figure)s %(unit)s (%(source)s)", figure=figure, unit=unit, source=source)
    return _(
        "%(figure)s %(unit)s (%(source)s; told from memory, so nothing is decided by it)",
        figure=figure,
        unit=unit,
        source=source,
    )


def _values() -> Reckoned:
    return Reckoned(
        anchor="eu-values",
        title=_("The three values of the European rule"),
        says=_(
            "A day's exposure level, LEX,8h, is the level that would bring the same sound energy in eight hours."
        ),
        formulas=(
            _("LEX,8h = 10 lg(sum of (hours · 10^(level / 10)) / %(workday)s)", workday=plain(WORKDAY_H)),
        ),
        examples=(
            _(
                "95 dB(A) for 48 minutes: LEX,8h %(level)s dB(A).",
                level=plain(daily_exposure_level([(95, 0.8)])),
            ),
            *(
                _(
                    "%(name)s: %(level)s dB(A), peak %(pressure)s Pa or %(peak)s dB(C).",
                    name=_(value.name),
                    level=plain(value.level_dba),
                    pressure=plain(value.peak_pa),
                    peak=plain(value.peak_dbc),
                )
                for value in limits.EU_DAILY_VALUES
            ),
        ),
        rests_on=(_(TYPED_IN), _("Peaks are not reckoned at all: nothing here knows them.")),
        mind=(_(NO_LIMIT), *of_rule("eu")),
        sources=(
            _("Directive 2003/10/EC, Art. 3(1) and 3(2); Control of Noise at Work Regulations 2005 (UK)."),
        ),
    )


def _week() -> Reckoned:
    adults = plain(weekly.ADULTS_DBA)
    return Reckoned(
        anchor="week",
        title=_("A week"),
        says=_("Points for work under the UK and EU rule, and the weekly allowance for listening."),
        formulas=(
            _(
                "points of a day = %(full)s · 10^((level - %(upper)s) / 10) · hours / %(workday)s",
                full=plain(FULL_DOSE_PERCENT),
                upper=plain(weekly.UPPER_ACTION_DBA),
                workday=plain(WORKDAY_H),
            ),
            _(
                "weekly level = %(upper)s + 10 lg(points / %(points)s)",
                upper=plain(weekly.UPPER_ACTION_DBA),
                points=plain(weekly.WEEKLY_POINTS),
            ),
            _(
                "hours a week = %(hours)s / 2^((level - %(adults)s) / %(halving)s), for children from %(children)s dB(A)",
                hours=plain(weekly.ALLOWANCE_H),
                adults=adults,
                halving=plain(weekly.HALVING_DB),
                children=plain(weekly.CHILDREN_DBA),
            ),
        ),
        examples=(
            _(
                "A quarter of an hour at 100 dB(A): %(points)s points.",
                points=plain(weekly.daily_points([(100, 0.25)])),
            ),
            _("Five days of 100 points: %(level)s dB(A).", level=plain(weekly.weekly_level([100] * 5))),
            _(
                "95 dB(A): %(time)s a week within %(adults)s dB(A) for %(hours)s h.",
                time=duration(weekly.allowance_hours(95)),
                adults=adults,
                hours=plain(weekly.ALLOWANCE_H),
            ),
        ),
        rests_on=(_(TYPED_IN), _("Only what this show knows of today.")),
        mind=(_(NO_LIMIT),),
        sources=(
            _("HSE weekly ready-reckoner, 2020."),
            _("ITU-T H.870 with the WHO; its own table was not seen."),
        ),
    )
