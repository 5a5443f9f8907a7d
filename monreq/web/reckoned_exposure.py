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
    dose_percent,
    rule_named,
    time_factor,
)
from monreq.web.exposure_words import RULES, duration, part
from monreq.web.reckoned import Reckoned, plain
from monreq.web.speech import N_, _, listed, unfilled

_TYPED_IN = N_("A level that somebody measured at the ear and typed in; monreq has no microphone.")
_NO_LIMIT = N_(
    "No line below which nothing can happen: people differ. Local law and licensed practice come first."
)
_LIMIT_TEXTS = (
    N_("lower exposure action value"),
    N_("upper exposure action value"),
    N_("exposure limit value"),
    N_("dB peak"),
    N_("dB(C) peak"),
    N_("dB(A) over 8 h"),
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
    return (_at_the_ear(), *(_rule(rule) for rule in get_args(RuleName)), _values(), _week())


def _at_the_ear() -> Reckoned:
    in_words = listed(f"{plain(time_factor(3, rule), 2)} ({_(name)})" for rule, name in RULES.items())
    return Reckoned(
        anchor="exposure",
        title=_("At the ear: dose, time left, and what drift does"),
        says=_(
            "For in-ears, drift alone tells how allowed listening time changes. With a level measured at the ear also the "
            "dose so far and the time left; a wedge shows no time without one."
        ),
        formulas=(
            _("level at the ear = as measured + how much louder the mix became since"),
            _("dose = 100 %% · sum of (time at a level / time allowed at that level)"),
            _("time left = what is left of the dose · time allowed at the level now"),
        ),
        examples=(
            _("3 dB up multiplies allowed time by: %(factors)s.", factors=in_words),
            _(
                "4 h at 85 dB(A) and 1 h at 91 dB(A) are %(dose)s %% under %(rule)s.",
                dose=plain(dose_percent([(85, 4), (91, 1)], "niosh")),
                rule=RULES["niosh"],
            ),
        ),
        rests_on=(
            _(_TYPED_IN),
            _(
                "Pack volume, playing and fit as they were. In a wedge only raises count, since the stage stays as loud."
            ),
            _(
                "Every minute counts from the first level of the day until the show is closed, gaps between songs too; a "
                "silent in-ear pair does not count. What was heard before or elsewhere comes on top."
            ),
            _(
                "In-ears are measured in an ear simulator or coupler: a meter held to an earpiece says nothing."
            ),
        ),
        mind=(
            _("An estimate and a caution, never a safety device."),
            _(_NO_LIMIT),
            _(
                "Never one earpiece only: the ear that stays is turned up. In-ears protect only if they are then set softer."
            ),
        ),
    )


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
        says=_(
            "%(criterion)s dB(A) are allowed for %(workday)s hours; %(step)s dB more leave %(part)s of the time.",
            part=part(1 / rule.factor),
            **figures,
        ),
        formulas=(
            _(
                "time allowed = %(workday)s h / %(factor)s^((level - %(criterion)s) / %(step)s)",
                factor=plain(rule.factor),
                **figures,
            ),
            _(
                "time-weighted average = %(per_decade)s lg(dose / 100 %%) + %(criterion)s",
                per_decade=plain(rule.average_per_decade_db, 2),
                **figures,
            ),
        ),
        examples=tuple(_allowed(level, name) for level in (85.0, 94.0, 100.0)),
        rests_on=(_(_TYPED_IN), *_limits(name)),
        mind=(_(_NO_LIMIT),),
        sources=(_(_SOURCES[name]),),
    )


_SOURCES: dict[RuleName, str] = {
    "niosh": N_("NIOSH publication 98-126, 1998."),
    "osha": N_("29 CFR 1910.95, Appendix A."),
    "eu": N_("Directive 2003/10/EC and ISO 1999; taken against its upper exposure action value."),
}


def _allowed(level_dba: float, rule: RuleName) -> str:
    return _(
        "%(level)s dB(A): %(time)s", level=plain(level_dba), time=duration(allowed_hours(level_dba, rule))
    )


def _limits(rule: RuleName) -> list[str]:
    told = [
        _("Never above: %(limit)s.", limit=_sourced(limits.ceiling(rule))),
        _("Something is to be done from: %(limit)s.", limit=_sourced(limits.action_level(rule))),
    ]
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
        rests_on=(_(_TYPED_IN), _("Peaks are not reckoned at all: nothing here knows them.")),
        mind=(_(_NO_LIMIT),),
        sources=(_("Directive 2003/10/EC, Art. 3; Control of Noise at Work Regulations 2005 (UK)."),),
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
        rests_on=(_(_TYPED_IN), _("Only what this show knows of today.")),
        mind=(_(_NO_LIMIT),),
        sources=(
            _("HSE weekly ready-reckoner, 2020."),
            _("ITU-T H.870 with the WHO; its own table was not seen."),
        ),
    )
