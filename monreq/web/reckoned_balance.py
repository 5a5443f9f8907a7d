"""How balance, drift and loudness are reckoned, with examples."""

from monreq.domain import balance
from monreq.domain.decibels import net_change, power_sum
from monreq.domain.loudness import CLEARLY_HEARD_DB, JUST_HEARD_DB, TWICE_AS_LOUD_DB
from monreq.web.reckoned import Reckoned, db, plain
from monreq.web.speech import N_, _

_STAGED_ALIKE = N_(
    "Channels are gain-staged to the same nominal level, so that a source counts by its send level (and its trim)."
)
_UNRELATED = N_(
    "Sources are unrelated, so that powers add. One instrument twice in a mix, by line and by microphone, is not: "
    "in phase it adds to as much as 6 dB, out of phase to less than either."
)
_FOLLOWS = N_("Follows from the sum of incoherent sources.")
_MIX = {"kick": -11.0, "voice": -5.0, "guitar": -8.0, "keys": -9.0}
_ASKED_DB = 6.0
_EQUAL = {"kick": -10.0, "voice": -10.0, "guitar": -10.0}


def balance_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about balance, in the order of the page."""
    return (_adding_up(), _drift(), _share(), _same_loudness(), _others_only(), _rest_down(), _heard())


def _adding_up() -> Reckoned:
    return Reckoned(
        anchor="adding-up",
        title=_("Adding up requests"),
        says=_(
            "All waiting changes of one source in one mix are one row. Its figure is their plain sum, since gains one "
            "after another multiply and their dB add."
        ),
        formulas=(_("sum = change 1 + change 2 + …"),),
        examples=(
            _(
                "+3, +3 and %(less)s are %(sum)s, asked 3 times.",
                less=plain(-1),
                sum=db(net_change([3, 3, -1])),
            ),
        ),
        rests_on=(_("Changes are whole tenths of a dB, so that sums are exact."),),
        mind=(_("What is asked is not what is done: a person moves the desk, and says what was done."),),
        sources=(_("Definition of the decibel, ISO 80000-3."),),
    )


def _drift() -> Reckoned:
    louder = {**_EQUAL, "voice": 0.0}
    return Reckoned(
        anchor="drift",
        title=_("Drift since soundcheck"),
        says=_(
            "How much louder a mix is at the louder ear than at the soundcheck mark: everything in it, as the guard counts it."
        ),
        formulas=(
            _('loudness = 10 lg(power at the louder ear), as under "At the ear"'),
            _("drift = loudness now - loudness at the mark"),
        ),
        examples=(
            _("Two equal sources together are %(figure)s above one of them.", figure=db(power_sum([0, 0]))),
            _(
                "Of three equal sources one goes up by 10 dB: the mix is %(figure)s up.",
                figure=db(balance.drift(_EQUAL, louder)),
            ),
            _("All of a mix on one side instead of the middle: %(figure)s up.", figure=db(power_sum([0, 0]))),
        ),
        rests_on=(
            _(_STAGED_ALIKE),
            _(_UNRELATED),
            _("Click, talkback, audience mics and pans count: an ear does not know what a sound is for."),
            _("Playing, packs and wedges are as they were."),
        ),
        mind=(_("It is no sound level: nothing was measured, and what comes from the stage is not in it."),),
        sources=(
            _("Sum of incoherent sources, textbook acoustics; checked against printed dB addition tables."),
        ),
    )


def _share() -> Reckoned:
    return Reckoned(
        anchor="share",
        title=_("How a source stands against the rest"),
        says=_("How far a source is above or below everything else in its mix taken together."),
        formulas=(_("share = level of the source - 10 lg(sum of 10^(level of each other / 10))"),),
        examples=(
            _(
                "Kick at %(kick)s beside voice, guitar and keys at %(voice)s, %(guitar)s and %(keys)s is %(stands)s to the "
                "rest.",
                stands=db(balance.share(_MIX, "kick")),
                **{name: plain(level) for name, level in _MIX.items()},
            ),
        ),
        rests_on=(_(_STAGED_ALIKE), _(_UNRELATED)),
        mind=(
            _(
                "It says nothing about masking or sound from the stage. First ask: are they playing now, is polarity "
                "right, is the mic close?"
            ),
        ),
        sources=(_(_FOLLOWS),),
    )


def _same_loudness() -> Reckoned:
    moves = balance.as_two_moves(_MIX, "kick", _ASKED_DB)
    return Reckoned(
        anchor="same-loudness",
        title=_("The same loudness"),
        says=_(
            "The balance that was asked for without a louder mix: the output goes down first, then the send goes up."
        ),
        formulas=(_("output = -10 lg(power after the raise / power before)"),),
        examples=(
            _(
                "Kick asked up by %(asked)s: kick %(before)s to %(after)s, output %(output)s.",
                asked=plain(_ASKED_DB),
                before=plain(_MIX["kick"]),
                after=plain(_MIX["kick"] + moves.send_change_db),
                output=db(moves.output_change_db),
            ),
        ),
        rests_on=(
            _(_STAGED_ALIKE),
            _(_UNRELATED),
            _(
                "It is offered first once a mix drifted by more than %(figure)s dB (chosen: twice the power).",
                figure=plain(balance.SAME_LOUDNESS_FIRST_DB),
            ),
        ),
        mind=(
            _("A weighing of powers, not of how loud a kick or a cymbal is felt."),
            _(
                "Output down before the send goes up: the other way round it is too loud for a moment, and may ring."
            ),
        ),
        sources=(_(_FOLLOWS),),
    )


def _others_only() -> Reckoned:
    rest = balance.others_only(_MIX, "kick", 3.0)["voice"] - _MIX["voice"]
    return Reckoned(
        anchor="others-only",
        title=_("Only the others lowered"),
        says=_(
            "The asked source rises by exactly what was asked, and all others make room by one and the same figure."
        ),
        formulas=(
            _(
                "others = 10 lg((P - Pk · 10^(asked / 10)) / (P - Pk)), P the power of the mix, Pk of the source"
            ),
        ),
        examples=(
            _("Kick up by 3 in that mix: all others %(figure)s.", figure=db(rest)),
            _(
                "It has no answer from %(figure)s on: there the kick alone is as loud as the whole mix was.",
                figure=db(balance.most_by_others_only(_MIX, "kick")),
            ),
        ),
        rests_on=(_(_STAGED_ALIKE), _(_UNRELATED)),
        mind=(_("No way out of too little margin: the asked mic itself is raised."),),
        sources=(_(_FOLLOWS),),
    )


def _rest_down() -> Reckoned:
    lowered = balance.rest_down(_MIX, "kick", _ASKED_DB)
    return Reckoned(
        anchor="rest-down",
        title=_("Rest down"),
        says=_(
            "The asked source stays, every other send goes down by what was asked, but no farther than one trip. Click and "
            "talkback stay."
        ),
        formulas=(_("every other send = its level - the lesser of what was asked and one trip"),),
        examples=(
            _(
                "Kick wanted %(asked)s more: the rest %(rest)s; the mix becomes %(mix)s, and no feedback margin is spent.",
                asked=plain(_ASKED_DB),
                rest=db(-_ASKED_DB),
                mix=db(balance.drift(_MIX, lowered)),
            ),
        ),
        rests_on=(_("The moves end where the desk's scale ends."),),
        mind=(_("The mix becomes softer: say so to the musician."),),
        sources=(
            _("Turning the rest down first: guidance of the trade for quieter stages; common practice."),
        ),
    )


def _heard() -> Reckoned:
    return Reckoned(
        anchor="heard",
        title=_("How a change is heard"),
        says=_("Rules of thumb that tell a figure from what an ear makes of it."),
        formulas=(_("times as loud = 2^(change / 10), for sounds above 40 phon"),),
        examples=(
            _(
                "About %(just)s dB are just heard in ordinary listening, %(clearly)s dB clearly, %(twice)s dB as twice as "
                "loud. Side by side, 1 dB is heard.",
                just=plain(JUST_HEARD_DB),
                clearly=plain(CLEARLY_HEARD_DB),
                twice=plain(TWICE_AS_LOUD_DB),
            ),
        ),
        rests_on=(_("An average listener; low bass is heard to double within 5 to 6 dB."),),
        mind=(_("No measure of a sound, and no promise of what this musician hears."),),
        sources=(
            _(
                "Sone and phon, ISO 532-1; tables of perceived change at epanorama.net and in Caltrans' training."
            ),
        ),
    )
