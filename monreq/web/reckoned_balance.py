"""How balance, drift and loudness are reckoned, with examples."""

from monreq.domain import balance
from monreq.domain.decibels import net_change, power_sum
from monreq.domain.loudness import CLEARLY_HEARD_DB, JUST_HEARD_DB, TWICE_AS_LOUD_DB
from monreq.web.reckoned import Reckoned, db, plain

_STAGED_ALIKE = "Channels are gain-staged to the same nominal level, so that a source counts by its send level (and its trim)."
_UNRELATED = (
    "Sources are unrelated, so that powers add. One instrument twice in a mix, by line and by microphone, is not: "
    "in phase it adds to as much as 6 dB, out of phase to less than either."
)
_MIX = {"kick": -11.0, "voice": -5.0, "guitar": -8.0, "keys": -9.0}
_ASKED_DB = 6.0
_EQUAL = {"kick": -10.0, "voice": -10.0, "guitar": -10.0}


def balance_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about balance, in the order of the page."""
    return (_adding_up(), _drift(), _share(), _same_loudness(), _others_only(), _rest_down(), _heard())


def _adding_up() -> Reckoned:
    return Reckoned(
        anchor="adding-up",
        title="Adding up requests",
        says=(
            "All waiting changes of one source in one mix are one row. Its figure is their plain sum, since gains one "
            "after another multiply and their dB add."
        ),
        formulas=("sum = change 1 + change 2 + …",),
        examples=(f"+3, +3 and {plain(-1)} are {db(net_change([3, 3, -1]))}, asked 3 times.",),
        rests_on=("Changes are whole tenths of a dB, so that sums are exact.",),
        mind="What is asked is not what is done: a person moves the desk, and says what was done.",
        sources=("Definition of the decibel, ISO 80000-3.",),
    )


def _drift() -> Reckoned:
    louder = {**_EQUAL, "voice": 0.0}
    return Reckoned(
        anchor="drift",
        title="Drift since soundcheck",
        says="How much louder a mix became since the soundcheck mark: its sends taken together, and its output.",
        formulas=(
            "loudness of the sends = 10 lg(sum of 10^(level / 10))",
            "drift = loudness now - loudness at the mark + change of the output",
        ),
        examples=(
            f"Two equal sources together are {db(power_sum([0, 0]))} above one of them.",
            f"Of three equal sources one goes up by 10 dB: the mix is {db(balance.drift(_EQUAL, louder))} up.",
        ),
        rests_on=(
            _STAGED_ALIKE,
            _UNRELATED,
            "Click, talkback and audience mics are left out.",
            "Playing, packs and wedges are as they were.",
        ),
        mind="It is no sound level: nothing was measured, and what comes from the stage is not in it.",
        sources=(
            "Sum of incoherent sources, textbook acoustics; checked against printed dB addition tables.",
        ),
    )


def _share() -> Reckoned:
    stands = balance.share(_MIX, "kick")
    return Reckoned(
        anchor="share",
        title="How a source stands against the rest",
        says="How far a source is above or below everything else in its mix taken together.",
        formulas=("share = level of the source - 10 lg(sum of 10^(level of each other / 10))",),
        examples=(
            f"Kick at {plain(-11)} beside voice, guitar and keys at {plain(-5)}, {plain(-8)} and {plain(-9)} is {db(stands)} to the rest.",
        ),
        rests_on=(_STAGED_ALIKE, _UNRELATED),
        mind=(
            "It says nothing about masking or sound from the stage. First ask: are they playing now, is polarity "
            "right, is the mic close?"
        ),
        sources=("Follows from the sum of incoherent sources.",),
    )


def _same_loudness() -> Reckoned:
    moves = balance.as_two_moves(_MIX, "kick", _ASKED_DB)
    to = _MIX["kick"] + moves.send_change_db
    return Reckoned(
        anchor="same-loudness",
        title="The same loudness",
        says="The balance that was asked for without a louder mix: the send goes up, the output comes down against it.",
        formulas=("output = -10 lg(power after the raise / power before)",),
        examples=(
            f"Kick asked up by {plain(_ASKED_DB)}: kick {plain(_MIX['kick'])} to {plain(to)}, "
            f"output {db(moves.output_change_db)}.",
        ),
        rests_on=(
            _STAGED_ALIKE,
            _UNRELATED,
            f"It is offered first once a mix drifted by more than {plain(balance.SAME_LOUDNESS_FIRST_DB)} dB "
            "(chosen: twice the power).",
        ),
        mind="A weighing of powers, not of how loud a kick or a cymbal is felt.",
        sources=("Follows from the sum of incoherent sources.",),
    )


def _others_only() -> Reckoned:
    room = balance.most_by_others_only(_MIX, "kick")
    rest = balance.others_only(_MIX, "kick", 3.0)["voice"] - _MIX["voice"]
    return Reckoned(
        anchor="others-only",
        title="Only the others lowered",
        says="The asked source rises by exactly what was asked, and all others make room by one and the same figure.",
        formulas=(
            "others = 10 lg((P - Pk · 10^(asked / 10)) / (P - Pk)), P the power of the mix, Pk of the source",
        ),
        examples=(
            f"Kick up by 3 in that mix: all others {db(rest)}.",
            f"It has no answer from {db(room)} on: there the kick alone is as loud as the whole mix was.",
        ),
        rests_on=(_STAGED_ALIKE, _UNRELATED),
        mind="No way out of too little margin: the asked mic itself is raised.",
        sources=("Follows from the sum of incoherent sources.",),
    )


def _rest_down() -> Reckoned:
    lowered = balance.rest_down(_MIX, "kick", _ASKED_DB)
    return Reckoned(
        anchor="rest-down",
        title="Rest down",
        says="The asked source stays, every other send goes down by what was asked. Talkback stays.",
        formulas=("every other send = its level - what was asked",),
        examples=(
            f"Kick wanted {plain(_ASKED_DB)} more: the rest {db(-_ASKED_DB)}; the mix becomes "
            f"{db(balance.drift(_MIX, lowered))}, and no feedback margin is spent.",
        ),
        rests_on=("The moves end where the desk's scale ends.",),
        mind="The mix becomes softer: say so to the musician.",
        sources=("Turning the rest down first: guidance of the trade for quieter stages; common practice.",),
    )


def _heard() -> Reckoned:
    return Reckoned(
        anchor="heard",
        title="How a change is heard",
        says="Rules of thumb that tell a figure from what an ear makes of it.",
        formulas=("times as loud = 2^(change / 10), for sounds above 40 phon",),
        examples=(
            f"About {plain(JUST_HEARD_DB)} dB are just heard in ordinary listening, {plain(CLEARLY_HEARD_DB)} dB "
            f"clearly, {plain(TWICE_AS_LOUD_DB)} dB as twice as loud. Side by side, 1 dB is heard.",
        ),
        rests_on=("An average listener; low bass is heard to double within 5 to 6 dB.",),
        mind="No measure of a sound, and no promise of what this musician hears.",
        sources=(
            "Sone and phon, ISO 532-1; tables of perceived change at epanorama.net and in Caltrans' training.",
        ),
    )
