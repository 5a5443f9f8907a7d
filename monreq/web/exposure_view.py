"""What the desk says about exposure: of a mix on its page, and of all in-ears beside the queue."""

from collections.abc import Iterator
from dataclasses import dataclass

from monreq.domain.decibels import to_db
from monreq.domain.drifts import NOTICED_DB, drift_db
from monreq.domain.ear_exposure import EarExposure
from monreq.domain.ear_levels import bounded
from monreq.domain.exposure import RuleName, time_factor, time_weighted_average
from monreq.domain.exposure_limits import DailyValue, value_reached
from monreq.domain.exposure_uncertainty import Estimate
from monreq.domain.exposure_weekly import ADULTS_DBA, ALLOWANCE_H, WEEKLY_POINTS, allowance_hours
from monreq.domain.readings import EarLevel, EarMethod
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.web import exposure_words as words
from monreq.web.clock import local_time
from monreq.web.ear_sentences import (
    basis,
    forecast_line,
    level_line,
    none_above,
    trend_line,
)
from monreq.web.exposure_cautions import cautions
from monreq.web.own_exposure import drift_up
from monreq.web.speech import N_, _, decimal, listed


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
        forecast: When the day is full, or what became of the time, in sentences that the phone shows too.
        as_of: The time of day as of which that and the figures are told.
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
    forecast: tuple[str, ...]
    as_of: str
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
        measured=tuple(
            MeasuredLine(one.at_ms, _measured(one, facts)) for one in show.ear_levels.get(mix, ())
        ),
        figures=tuple(_figures(show, facts, exposure)) if exposure else (),
        forecast=tuple(_forecast(show, mix, exposure.as_of_ms)) if exposure else (),
        as_of=local_time(exposure.as_of_ms) if exposure else "",
        since_ms=exposure.since_ms if exposure else None,
        is_over=exposure is not None and exposure.is_day_over,
        cautions=tuple(cautions(show, facts)),
    )


def _forecast(show: Show, mix: str, now_ms: int) -> Iterator[str]:
    yield from filter(None, (forecast_line(show, mix, now_ms), trend_line(show, mix)))


def exposure_lines(show: Show) -> tuple[str, ...]:
    """Return a sentence for each in-ear pair that became noticeably louder; a function of the state alone."""
    return tuple(
        _louder_in_ears(show, mix, drift)
        for mix in show.mixes.values()
        if mix.output is Output.IN_EAR_PAIR and (drift := drift_up(show, mix.id))
    )


def _louder_in_ears(show: Show, mix: Mix, drift: float) -> str:
    left = words.part(time_factor(drift, show.settings.exposure_rule))
    return _(
        "%(in_ears)s are %(drift)s dB up since soundcheck: if pack and playing are unchanged, a day is full after "
        "%(part)s of the time (%(rule)s). An estimate, not a measurement.",
        in_ears=_in_ears(mix),
        drift=_one_place(drift),
        part=left,
        rule=basis(show),
    )


def _methods(mix: Mix) -> tuple[tuple[str, str], ...]:
    ways = [EarMethod.AT_THE_EAR] if mix.output is Output.WEDGE else list(EarMethod)
    return tuple((way.value, _(words.METHODS[way])) for way in ways)


def _in_ears(mix: Mix) -> str:
    """Return whose in-ears they are, without saying so twice."""
    is_said = "in-ear" in mix.name.casefold()
    return mix.name if is_said else _("%(whose)s in-ears", whose=words.possessive(mix.name))


def _drift(show: Show, mix: Mix) -> str:
    if drift := drift_up(show, mix.id):
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
            least=f"{NOTICED_DB:.0f}",
        )
    )


def _one_place(db: float) -> str:
    return decimal(f"{db:.1f}")


def _measured(one: EarLevel, mix: Mix) -> str:
    how = one.words if one.how is EarMethod.OTHER else _(words.METHODS[one.how])
    parts = (words.sound_level(to_db(one.level_tenths)), how, _in_field(one, mix))
    return listed(part for part in parts if part)


def _in_field(one: EarLevel, mix: Mix) -> str:
    """Return whether it was converted; a wedge needs no such word, since its ear was open."""
    return "" if mix.output is Output.WEDGE else _(_FIELD[one.is_field_level])


_FIELD = {
    True: N_("converted"),
    False: N_("as read, not converted"),
    None: N_("compared as typed: nobody said whether it was converted"),
}


def _figures(show: Show, mix: Mix, exposure: EarExposure) -> Iterator[FigureLine]:
    level = exposure.level_dba
    yield FigureLine(
        _("at the louder ear now"), _("silent") if level is None else level_line(show, mix.id, level)
    )
    yield FigureLine(_("counted"), words.duration(exposure.counted_h))
    if exposure.dose_percent is None or exposure.points is None or exposure.allowance_percent is None:
        return
    yield FigureLine(
        _("dose so far (%(rule)s)", rule=basis(show)),
        _("%(percent)s of a day", percent=words.between(exposure.dose_percent, words.percent)),
    )
    # What was read last in a canal or coupler adds nothing to a dose, and its time is not told.
    is_told = exposure.left_h is not None or level is None
    if is_told and not exposure.is_day_over:
        yield FigureLine(_("time left at this level"), _left(exposure))
    yield FigureLine(_("UK and EU points so far"), _points(exposure.points))
    yield FigureLine(
        _("week's listening allowance"), _allowance(exposure.allowance_percent, level if is_told else None)
    )


def _left(exposure: EarExposure) -> str:
    if exposure.left_h is None:
        return _("the mix is silent")
    if exposure.is_above_ceiling:
        return none_above(exposure.rule)
    if not exposure.left_h.about:
        return _("none: the day is full")
    return words.between_times(exposure.left_h)


def _points(points: Estimate) -> str:
    so_far = _(
        "%(points)s, where a day has %(day)s and a week %(week)s",
        points=words.between(points, words.rounded_up),
        day=f"{WEEKLY_POINTS / 5:.0f}",
        week=f"{WEEKLY_POINTS:.0f}",
    )
    reached, perhaps = _value_reached(points.about), _value_reached(points.high)
    if perhaps is None:
        return so_far
    if reached is None:
        return _(
            "%(so_far)s; %(value)s perhaps reached, without protectors",
            so_far=so_far,
            value=_(perhaps.name),
        )
    if reached == perhaps:
        return _("%(so_far)s; %(value)s reached, without protectors", so_far=so_far, value=_(reached.name))
    return _(
        "%(so_far)s; %(value)s reached, %(higher)s perhaps, without protectors",
        so_far=so_far,
        value=_(reached.name),
        higher=_(perhaps.name),
    )


def _value_reached(points: float) -> DailyValue | None:
    return value_reached(bounded(time_weighted_average(points, "eu"))) if points else None


def _allowance(percent: Estimate, level: float | None) -> str:
    used = _(
        "%(percent)s of %(level)s dB(A) for %(hours)s h used today",
        percent=words.between(percent, words.percent),
        level=f"{ADULTS_DBA:.0f}",
        hours=f"{ALLOWANCE_H:.0f}",
    )
    if level is None:
        return used
    lasts = words.about_time(allowance_hours(level))
    return _("%(used)s; at this level it lasts %(time)s a week", used=used, time=lasts)
