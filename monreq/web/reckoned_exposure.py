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

_TYPED_IN = "A level that somebody measured at the ear and typed in; monreq has no microphone."
_NO_LIMIT = (
    "No line below which nothing can happen: people differ. Local law and licensed practice come first."
)
_NO_DEVICE = f"An estimate and a caution, never a safety device. {_NO_LIMIT}"


def exposure_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about exposure, in the order of the page."""
    return (_at_the_ear(), *(_rule(rule) for rule in get_args(RuleName)), _values(), _week())


def _at_the_ear() -> Reckoned:
    in_words = "; ".join(f"{name}: {plain(time_factor(3, rule), 2)}" for rule, name in RULES.items())
    return Reckoned(
        anchor="exposure",
        title="At the ear: dose, time left, and what drift does",
        says=(
            "For in-ears, drift alone tells how allowed listening time changes. With a level measured at the ear also the "
            "dose so far and the time left; a wedge shows no time without one."
        ),
        formulas=(
            "level at the ear = as measured + how much louder the mix became since",
            "dose = 100 % · sum of (time at a level / time allowed at that level)",
            "time left = what is left of the dose · time allowed at the level now",
        ),
        examples=(
            f"3 dB up multiplies allowed time by: {in_words}.",
            f"4 h at 85 dB(A) and 1 h at 91 dB(A) are {plain(dose_percent([(85, 4), (91, 1)], 'niosh'))} % "
            f"under {RULES['niosh']}.",
        ),
        rests_on=(
            _TYPED_IN,
            "Pack volume, playing and fit as they were. In a wedge only raises count, since the stage stays as loud.",
            "Every minute counts from the first level of the day until the show is closed, gaps between songs too; a "
            "silent in-ear pair does not count. What was heard before or elsewhere comes on top.",
            "In-ears are measured in an ear simulator or coupler: a meter held to an earpiece says nothing.",
        ),
        mind=_NO_DEVICE
        + " Never one earpiece only: the ear that stays is turned up. In-ears protect only if they are then set softer.",
    )


def _rule(name: RuleName) -> Reckoned:
    rule, levels = rule_named(name), (85.0, 94.0, 100.0)
    allowed = ", ".join(f"{plain(level)} dB(A): {duration(allowed_hours(level, name))}" for level in levels)
    threshold, ceiling, action = limits.threshold(name), limits.ceiling(name), limits.action_level(name)
    rests_on = [_figure("Never above", ceiling), _figure("Something is to be done from", action)]
    if threshold is not None:
        rests_on.append(
            _figure("Below its threshold a rule's own meter counts nothing, monreq counts it", threshold)
        )
    return Reckoned(
        anchor=f"rule-{name}",
        title=f"The rule of {RULES[name]}",
        says=(
            f"{plain(rule.criterion_dba)} dB(A) are allowed for {plain(WORKDAY_H)} hours; {plain(rule.per_db)} dB more "
            f"leave {part(1 / rule.factor)} of the time."
        ),
        formulas=(
            f"time allowed = {plain(WORKDAY_H)} h / {plain(rule.factor)}^((level - {plain(rule.criterion_dba)}) / "
            f"{plain(rule.per_db)})",
            f"time-weighted average = {plain(rule.average_per_decade_db, 2)} lg(dose / 100 %) + "
            f"{plain(rule.criterion_dba)}",
        ),
        examples=(allowed + ".",),
        rests_on=(_TYPED_IN, *rests_on),
        mind=_NO_LIMIT,
        sources=(_SOURCES[name],),
    )


_SOURCES: dict[RuleName, str] = {
    "niosh": "NIOSH publication 98-126, 1998.",
    "osha": "29 CFR 1910.95, Appendix A.",
    "eu": "Directive 2003/10/EC and ISO 1999; taken against its upper exposure action value.",
}


def _figure(what: str, limit: limits.Limit) -> str:
    doubt = "" if limit.is_verified else "; told from memory, so nothing is decided by it"
    return f"{what}: {plain(limit.figure)} {limit.unit} ({limit.source}{doubt})."


def _values() -> Reckoned:
    level = daily_exposure_level([(95, 0.8)])
    return Reckoned(
        anchor="eu-values",
        title="The three values of the European rule",
        says="A day's exposure level, LEX,8h, is the level that would bring the same sound energy in eight hours.",
        formulas=(f"LEX,8h = 10 lg(sum of (hours · 10^(level / 10)) / {plain(WORKDAY_H)})",),
        examples=(
            f"95 dB(A) for 48 minutes: LEX,8h {plain(level)} dB(A).",
            *(
                f"{value.name}: {plain(value.level_dba)} dB(A), peak {plain(value.peak_pa)} Pa or "
                f"{plain(value.peak_dbc)} dB(C)."
                for value in limits.EU_DAILY_VALUES
            ),
        ),
        rests_on=(_TYPED_IN, "Peaks are not reckoned at all: nothing here knows them."),
        mind=_NO_LIMIT,
        sources=("Directive 2003/10/EC, Art. 3; Control of Noise at Work Regulations 2005 (UK).",),
    )


def _week() -> Reckoned:
    return Reckoned(
        anchor="week",
        title="A week",
        says="Points for work under the UK and EU rule, and the weekly allowance for listening.",
        formulas=(
            f"points of a day = {plain(FULL_DOSE_PERCENT)} · 10^((level - {plain(weekly.UPPER_ACTION_DBA)}) / 10) · hours / "
            f"{plain(WORKDAY_H)}",
            f"weekly level = {plain(weekly.UPPER_ACTION_DBA)} + 10 lg(points / {plain(weekly.WEEKLY_POINTS)})",
            f"hours a week = {plain(weekly.ALLOWANCE_H)} / 2^((level - {plain(weekly.ADULTS_DBA)}) / "
            f"{plain(weekly.HALVING_DB)}), for children from {plain(weekly.CHILDREN_DBA)} dB(A)",
        ),
        examples=(
            f"A quarter of an hour at 100 dB(A): {plain(weekly.daily_points([(100, 0.25)]))} points.",
            f"Five days of 100 points: {plain(weekly.weekly_level([100] * 5))} dB(A).",
            f"95 dB(A): {duration(weekly.allowance_hours(95))} a week within {plain(weekly.ADULTS_DBA)} dB(A) for "
            f"{plain(weekly.ALLOWANCE_H)} h.",
        ),
        rests_on=(_TYPED_IN, "Only what this show knows of today."),
        mind=_NO_LIMIT,
        sources=("HSE weekly ready-reckoner, 2020.", "ITU-T H.870 with the WHO; its own table was not seen."),
    )
