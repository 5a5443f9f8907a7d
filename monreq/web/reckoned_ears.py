"""How a level at an ear is reckoned: which ear, from which reading, how far it may be off, and when the day is full."""

import math

from monreq.domain.drifts import NOTICED_DB
from monreq.domain.ear_after import EVENING_H
from monreq.domain.ear_course import TREND_MS
from monreq.domain.ear_forecast import HORIZON_H
from monreq.domain.exposure import allowed_hours, dose_percent, time_factor
from monreq.domain.exposure_uncertainty import (
    COVERAGE,
    INSTRUMENT_DB,
    POSITION_DB,
    SAMPLING_DB,
    TYPED_LEVEL_DB,
    combined_db,
)
from monreq.web import exposure_cautions as told
from monreq.web.exposure_words import RULES, duration
from monreq.web.reckoned import Reckoned, plain
from monreq.web.speech import N_, _, listed

TYPED_IN = N_("A level that somebody measured at the ear and typed in; monreq has no microphone.")
NO_LIMIT = N_(
    "No line below which nothing can happen: people differ. Local law and licensed practice come first."
)
MS_PER_MINUTE = 60_000
_STEADY_DBA = 94.0


def ear_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about an ear, in the order of the page."""
    return _at_the_ear(), _canal(), _off(), _full()


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
            _("level at the ear = as measured + how much more power the louder ear gets since"),
            _(
                "power at an ear = sum of (2 · 10^((send + output + preamp + trim) / 10) · cos^2 or sin^2 of its pan)"
            ),
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
            _(TYPED_IN),
            _(
                "Every source counts, click and talkback too, by where it is panned: all of a mix on one side is 3 dB more in "
                "that ear. Drift since soundcheck counts alike."
            ),
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
            _(NO_LIMIT),
            _(told.AFTERWARDS),
            _(told.NO_PROTECTORS),
            _("Never one earpiece only: the ear that stays is turned up."),
            _(told.WHOLE_SONG),
            _(told.SECOND_SET),
            told.children(),
        ),
        sources=(_("Constant power: J. O. Smith, Spectral Audio Signal Processing."),),
    )


def _canal() -> Reckoned:
    return Reckoned(
        anchor="canal",
        title=_("Read in the ear canal or a coupler"),
        says=_(
            "The rules mean the level of a free or diffuse field. What is read in an ear canal or coupler is converted to it "
            "before it is held against them."
        ),
        formulas=(_("level in a band = as read in that band - what the ear adds in that band"),),
        examples=(
            _("What an ear adds in a diffuse field: nothing up to 100 Hz, 4 dB at 1 kHz, 15 dB at 2.5 kHz."),
        ),
        rests_on=(
            _(
                "Whoever types the figure says whether it was converted. An older one of which nobody said is compared as "
                "typed, which errs to the careful side."
            ),
            _(
                "There is no one figure for music: it depends on the spectrum and the earpiece, and none that was published "
                "was found. So monreq converts nothing."
            ),
        ),
        mind=(told.as_read(),),
        sources=(
            _("ISO 11904-1 and ISO 11904-2."),
            _(
                "What an ear adds: the diffuse-field column of a table in the Clarity project's hearing-loss model, which names only "
                "an earlier file for it."
            ),
        ),
    )


def _off() -> Reckoned:
    return Reckoned(
        anchor="off-by",
        title=_("How far a level at the ear may be off"),
        says=_("Every dose and every time left is told with between which figures it lies."),
        formulas=(
            _("standard uncertainty u = square root of (sampling^2 + instrument^2 + position^2)"),
            _("off by U = %(coverage)s · u, which 19 of 20 stay below", coverage=plain(COVERAGE, 2)),
        ),
        examples=(
            _(
                "Sampling %(sampling)s dB, instrument %(instrument)s dB, position %(position)s dB: u = %(standard)s dB, U = "
                "%(expanded)s dB.",
                sampling=plain(SAMPLING_DB),
                instrument=plain(INSTRUMENT_DB),
                position=plain(POSITION_DB),
                standard=plain(combined_db(SAMPLING_DB, INSTRUMENT_DB, POSITION_DB)),
                expanded=plain(TYPED_LEVEL_DB),
            ),
            _(
                "In time that is a factor of %(times)s, either way (%(rule)s).",
                times=plain(time_factor(-TYPED_LEVEL_DB, "niosh")),
                rule=RULES["niosh"],
            ),
        ),
        rests_on=(
            _(TYPED_IN),
            _("All of a day rests on the same reading, so that it does not average out."),
            _("Nobody is asked for the class of the instrument: it is taken as class 2 or a personal meter."),
        ),
        mind=(_("Another pack volume, another fit or harder playing is in none of it."),),
        sources=(
            _("ISO 9612:2009, Annex C; examples of its Annexes D to F."),
            _(
                "Sampling: chosen. One song shows nothing of how songs differ; its Annex E has 2.0 dB over a day."
            ),
        ),
    )


def _full() -> Reckoned:
    return Reckoned(
        anchor="full",
        title=_("When the day is full"),
        says=_(
            "The time at which a day's dose is used up, told alike at the desk and on the phone. From the earliest on nothing is "
            "suggested that makes that mix louder; a typed figure always goes."
        ),
        formulas=(
            _("at this level: now + time left"),
            _("no raise from: dose, with the level U higher than it was read, = 100 %%"),
            _(
                "rising: now + ln(1 + growth · time left) / growth; the earliest with the time left where the level is U higher"
            ),
            _(
                "growth = slope · ln(%(factor)s) / %(step)s (%(rule)s)",
                factor="2",
                step="3",
                rule=RULES["niosh"],
            ),
        ),
        examples=(
            _(
                "1 h left and rising by 3 dB an hour: full in %(minutes)s min (%(rule)s).",
                minutes=plain(60 * math.log2(1 + math.log(2)), 0),
                rule=RULES["niosh"],
            ),
            _(
                "%(level)s dB(A) since the first reading: full after %(time)s, no raise after %(early)s (%(rule)s).",
                level=plain(_STEADY_DBA),
                time=duration(allowed_hours(_STEADY_DBA, "niosh")),
                early=duration(allowed_hours(_STEADY_DBA + TYPED_LEVEL_DB, "niosh")),
                rule=RULES["niosh"],
            ),
        ),
        rests_on=_full_rests_on(),
        mind=(_("Nobody knows how the evening goes on."), _(NO_LIMIT)),
        sources=(
            _(
                "ISO 9612:2009, clause 14: U is one-sided, so that 19 of 20 stay below; how to compare with a limit it leaves open "
                "(BGI 5053, 11.2, of its draft)."
            ),
            _(
                "TRLV Lärm, part 2 (Germany, 2017), section 9(3): a value that lies within the range of a reading is taken as "
                "exceeded, until somebody measures better."
            ),
            _("Chosen: half an hour, and least squares; how long an evening is, which nobody enters."),
        ),
    )


def _full_rests_on() -> tuple[str, ...]:
    return (
        _(
            "The slope of the level over the last %(minutes)s minutes before the mix last changed, by least squares.",
            minutes=plain(TREND_MS / MS_PER_MINUTE),
        ),
        _(
            "A level that falls is taken to stay. Beyond %(hours)s h nothing is told.",
            hours=plain(HORIZON_H),
        ),
        _(
            "A row says what its move leads to where the day may become shorter than an evening of %(evening)s h, or such an "
            "evening may bring it to the rule's action level; where it is shorter already, from %(step)s dB more.",
            evening=plain(EVENING_H),
            step=plain(NOTICED_DB),
        ),
        _(
            "Where a rule permits no time above a level, suggestions end U below it: the reading may be as much too low."
        ),
    )
