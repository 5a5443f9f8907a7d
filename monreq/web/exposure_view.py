"""What pages say about exposure: of a mix at the desk, of all in-ears beside the queue, and of one's own on the phone."""

from collections.abc import Iterator
from dataclasses import dataclass

from monreq.domain.decibels import to_db
from monreq.domain.drifts import drift_db
from monreq.domain.ear_exposure import EarExposure, level_at_ear
from monreq.domain.exposure import RuleName, allowed_hours, time_factor, time_weighted_average
from monreq.domain.exposure_limits import value_reached
from monreq.domain.exposure_weekly import ADULTS_DBA, ALLOWANCE_H, WEEKLY_POINTS, allowance_hours
from monreq.domain.readings import EarLevel, EarMethod
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.web import exposure_words as words
from monreq.web.speech import N_, _, decimal, listed

LEAST_DRIFT_DB = 1.0  # chosen: what is heard side by side; below it a line would only be noise
ONE_EAR_DB = 6.0  # Handbook for Sound Engineers, 37.8.5: one earpiece alone is turned up by about as much


@dataclass(frozen=True, slots=True)
class MeasuredLine:
    """A level at the ear as it was entered."""

    at_ms: int
    text: str


@dataclass(frozen=True, slots=True)
class FigureLine:
    """A figure with its name."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class ExposureView:
    """The exposure of one mix.

    Attributes:
        drift: What the drift since soundcheck alone says.
        measured: The levels entered today, the oldest first.
        since_ms: When counting began. [ms since 1970, UTC]
        is_over: Whether a day has passed since.
        methods: How a level of such a mix can be measured: what the form sends, and the words.
        rule: The one chosen for the show.
        cautions: What to mind, in sentences.
    """

    is_wedge: bool
    methods: tuple[tuple[str, str], ...]
    rule: RuleName
    drift: str
    measured: tuple[MeasuredLine, ...]
    figures: tuple[FigureLine, ...]
    since_ms: int | None
    is_over: bool
    cautions: tuple[str, ...]


def exposure_view(show: Show, mix: str, exposure: EarExposure | None) -> ExposureView:
    """Return what a mix's page shows."""
    facts = show.mix(mix)
    return ExposureView(
        is_wedge=facts.output is Output.WEDGE,
        methods=_methods(facts),
        rule=show.settings.exposure_rule,
        drift=_drift(show, facts),
        measured=tuple(MeasuredLine(one.at_ms, _measured(one)) for one in show.ear_levels.get(mix, ())),
        figures=tuple(_figures(exposure)) if exposure else (),
        since_ms=exposure.since_ms if exposure else None,
        is_over=exposure is not None and exposure.is_day_over,
        cautions=tuple(_cautions(show, facts)),
    )


def exposure_lines(show: Show) -> tuple[str, ...]:
    """Return a sentence for each in-ear pair that became noticeably louder; a function of the state alone."""
    return tuple(
        _louder_in_ears(show, mix, drift)
        for mix in show.mixes.values()
        if mix.output is Output.IN_EAR_PAIR and (drift := _drift_up(show, mix.id))
    )


def own_exposure_line(show: Show, mix: str) -> str:
    """Return what a phone tells about its own mix, in plain words; empty where there is nothing to tell."""
    facts = show.mix(mix)
    level = level_at_ear(show, mix)
    if level is not None:
        return _own_level(show, facts, level)
    drift = _drift_up(show, mix)
    if not drift:
        return ""
    if facts.output is Output.WEDGE:
        return _(
            "Your wedge is %(drift)s dB louder than at soundcheck. An estimate, not a measurement.",
            drift=_one_place(drift),
        )
    left = words.part(time_factor(drift, show.settings.exposure_rule))
    return _(
        "Your in-ears are %(drift)s dB louder than at soundcheck. If you left the pack alone and play as then, "
        "your ears have had enough after %(part)s of the time (%(rule)s). An estimate, not a measurement.",
        drift=_one_place(drift),
        part=left,
        rule=_rule(show),
    )


def _own_level(show: Show, mix: Mix, level: float) -> str:
    allowed = words.duration(allowed_hours(level, show.settings.exposure_rule))
    return _(_OWN_LEVEL[mix.output], level=words.sound_level(level), allowed=allowed, rule=_rule(show))


_OWN_LEVEL = {
    Output.WEDGE: N_(
        "Your wedge: about %(level)s at the ear, if you play as then. A whole day's listening at that is "
        "%(allowed)s (%(rule)s). An estimate: rest your ears when you can."
    ),
    Output.IN_EAR_PAIR: N_(
        "Your in-ears: about %(level)s at the ear, if you left the pack alone and play as then. A whole day's "
        "listening at that is %(allowed)s (%(rule)s). An estimate: rest your ears when you can."
    ),
}


def _louder_in_ears(show: Show, mix: Mix, drift: float) -> str:
    left = words.part(time_factor(drift, show.settings.exposure_rule))
    return _(
        "%(in_ears)s are %(drift)s dB up since soundcheck: if pack and playing are unchanged, allowed listening "
        "time is down to %(part)s (%(rule)s). An estimate, not a measurement.",
        in_ears=_in_ears(mix),
        drift=_one_place(drift),
        part=left,
        rule=_rule(show),
    )


def _methods(mix: Mix) -> tuple[tuple[str, str], ...]:
    ways = [EarMethod.AT_THE_EAR] if mix.output is Output.WEDGE else list(EarMethod)
    return tuple((way.value, _(words.METHODS[way])) for way in ways)


def _in_ears(mix: Mix) -> str:
    """Return whose in-ears they are, without saying so twice."""
    is_said = "in-ear" in mix.name.casefold()
    return mix.name if is_said else _("%(whose)s in-ears", whose=words.possessive(mix.name))


def _drift(show: Show, mix: Mix) -> str:
    if drift := _drift_up(show, mix.id):
        if mix.output is Output.IN_EAR_PAIR:
            return _louder_in_ears(show, mix, drift)
        return _(
            "%(whose)s mix is %(drift)s dB up since soundcheck. How loud that is at the ear, only a measurement "
            "there tells.",
            whose=words.possessive(mix.name),
            drift=_one_place(drift),
        )
    return (
        ""
        if drift_db(show, mix.id) is None
        else _(
            "Not noticeably louder than at soundcheck: less than %(least)s dB up.",
            least=f"{LEAST_DRIFT_DB:.0f}",
        )
    )


def _drift_up(show: Show, mix: str) -> float:
    """Return how much louder a mix became [dB], 0 where that is not noticeable."""
    drift = round(drift_db(show, mix) or 0.0, 1)
    return drift if drift >= LEAST_DRIFT_DB else 0.0


def _rule(show: Show) -> str:
    return _(words.RULES[show.settings.exposure_rule])


def _one_place(db: float) -> str:
    return decimal(f"{db:.1f}")


def _measured(one: EarLevel) -> str:
    how = one.words if one.how is EarMethod.OTHER else _(words.METHODS[one.how])
    return listed((words.sound_level(to_db(one.level_tenths)), how))


def _figures(exposure: EarExposure) -> Iterator[FigureLine]:
    level, rule = exposure.level_dba, _(words.RULES[exposure.rule])
    yield FigureLine(_("at the ear now"), _("silent") if level is None else words.sound_level(level))
    yield FigureLine(_("counted"), words.duration(exposure.counted_h))
    yield FigureLine(
        _("dose so far (%(rule)s)", rule=rule),
        _("%(percent)s of a day's allowance", percent=words.percent(exposure.dose_percent)),
    )
    if not exposure.is_day_over:
        yield FigureLine(_("time left at this level"), _left(exposure.left_h))
    yield FigureLine(_("UK and EU points so far"), _points(exposure.points))
    yield FigureLine(_("week's listening allowance"), _allowance(exposure))


def _left(left_h: float | None) -> str:
    if left_h is None:
        return _("the mix is silent")
    return words.duration(left_h) if left_h else _("none: the day's allowance is used up")


def _points(points: float) -> str:
    so_far = _(
        "%(points)s of %(day)s a day and %(week)s a week",
        points=f"{points:.0f}",
        day=f"{WEEKLY_POINTS / 5:.0f}",
        week=f"{WEEKLY_POINTS:.0f}",
    )
    reached = value_reached(max(0.0, time_weighted_average(points, "eu"))) if points else None
    return _("%(so_far)s; %(value)s reached", so_far=so_far, value=_(reached.name)) if reached else so_far


def _allowance(exposure: EarExposure) -> str:
    used = _(
        "%(percent)s of %(level)s dB(A) for %(hours)s h used today",
        percent=words.percent(exposure.allowance_percent),
        level=f"{ADULTS_DBA:.0f}",
        hours=f"{ALLOWANCE_H:.0f}",
    )
    if exposure.level_dba is None:
        return used
    lasts = words.duration(allowance_hours(exposure.level_dba))
    return _("%(used)s; at this level it lasts %(time)s a week", used=used, time=lasts)


def _cautions(show: Show, mix: Mix) -> Iterator[str]:
    yield _(
        "All of it is estimated from a figure that was typed in, and never a safety device. Local law and licensed "
        "practice come first."
    )
    if mix.output is Output.WEDGE:
        yield _("Only raises of the wedge count: what comes from the stage stays when it goes down.")
    else:
        times = 1 / time_factor(ONE_EAR_DB, show.settings.exposure_rule)
        yield _(
            "If the pack's volume and the playing are unchanged. Is the pack's limiter on, its volume low?"
        )
        yield _(
            "A meter held to an earpiece says nothing: it takes an ear simulator or coupler, or a probe in the ear "
            "canal."
        )
        yield _(
            "Never one earpiece only: the ear that stays is turned up by about %(up)s dB, which is %(times)s times "
            "the dose (%(rule)s), and the other hears the stage bare.",
            up=f"{ONE_EAR_DB:.0f}",
            times=decimal(f"{times:.1f}".removesuffix(".0")),
            rule=_rule(show),
        )
    if len(mix.musicians) > 1:
        yield _("Several share this mix: the level holds for the one it was measured at.")
    yield _(
        "Counted is every minute from the first level entered until the show is closed, gaps between songs too; what "
        "was heard before, or elsewhere today, comes on top. Click and talkback are taken as they were."
    )
