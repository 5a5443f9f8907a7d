"""What a phone tells of its own mix's level at the ear, in plain words."""

from collections.abc import Iterator

from monreq.domain.drifts import NOTICED_DB, drift_db
from monreq.domain.ear_exposure import level_after
from monreq.domain.ear_levels import level_at_ear
from monreq.domain.exposure import time_factor
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.web import exposure_words as words
from monreq.web.ear_sentences import Timed, basis, forecast_lines, level_line, trend_line
from monreq.web.speech import N_, _, decimal


def own_exposure(show: Show, mix: str) -> tuple[Timed, ...]:
    """Return what a phone tells about its own mix, sentence by sentence; none where there is nothing to tell.

    Where time alone changes what is said, the sentences that will hold stand behind the one that holds.
    """
    facts = show.mix(mix)
    level = level_at_ear(show, mix)
    return tuple(_of_drift(show, facts) if level is None else _of_level(show, facts, level))


def own_exposure_lines(show: Show, mix: str) -> tuple[str, ...]:
    """Return what a phone tells at first, when the mix changed."""
    return tuple(line.text for line in own_exposure(show, mix) if not line.from_ms)


def drift_up(show: Show, mix: str) -> float:
    """Return how much louder a mix became [dB], 0 where that is not noticeable."""
    drift = round(drift_db(show, mix) or 0.0, 1)
    return drift if drift >= NOTICED_DB else 0.0


def _of_level(show: Show, mix: Mix, level: float) -> Iterator[Timed]:
    yield Timed(_(_OWN_LEVEL[mix.output], level=level_line(show, mix.id, level)))
    now = level_after(show, mix.id, 0.0)
    if now is None or now.permitted_h is None:
        yield Timed(_("That is no figure of a rule, so no time is told."))
        if trend := trend_line(show, mix.id):
            yield Timed(trend)
    elif now.permitted_h.about:
        yield Timed(
            _(
                "A whole day's listening at that is %(time)s (%(rule)s).",
                time=words.between_times(now.permitted_h),
                rule=basis(show),
            )
        )
    yield from forecast_lines(show, mix.id)
    yield Timed(_("An estimate: rest your ears when you can."))
    yield Timed(_("Ears that ring or feel dull had too much."))


def _of_drift(show: Show, mix: Mix) -> Iterator[Timed]:
    drift = drift_up(show, mix.id)
    if not drift:
        return
    louder = decimal(f"{drift:.1f}")
    if mix.output is Output.WEDGE:
        yield Timed(_("Your wedge is %(drift)s dB louder than at soundcheck.", drift=louder))
    else:
        yield Timed(_("Your in-ears are %(drift)s dB louder than at soundcheck.", drift=louder))
        yield Timed(
            _(
                "If you left the pack alone and play as then, your ears can take it for %(part)s of the time that they could at "
                "soundcheck (%(rule)s); how long that was, nobody measured.",
                part=words.part(time_factor(drift, show.settings.exposure_rule)),
                rule=basis(show),
            )
        )
    yield Timed(_("An estimate, not a measurement."))


_OWN_LEVEL = {
    Output.WEDGE: N_("Your wedge: about %(level)s at the ear, if you play as then."),
    Output.IN_EAR_PAIR: N_(
        "Your in-ears: about %(level)s at the louder ear, if you left the pack alone and play as then."
    ),
}
