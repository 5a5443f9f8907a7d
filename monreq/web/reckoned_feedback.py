"""How feedback margins and planned gain are reckoned, with examples."""

from monreq.domain import feedback
from monreq.domain.setup import Settings
from monreq.web.reckoned import Reckoned, db, plain

_INDICATOR = (
    "An indicator and no promise: a mic's direction, a wedge's aim, EQ, a hand around a mic or a hat move the truth by "
    "many dB."
)


def feedback_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about feedback, in the order of the page."""
    return (_margin(), _open_mics(), _planned())


def _margin() -> Reckoned:
    settings = Settings()
    left = feedback.margin_after(9, 2, 1, 3, 6)
    together = feedback.combined_margin([9, 9])
    return Reckoned(
        anchor="margin",
        title="Feedback margin of a mic in a wedge",
        says=(
            "How far a mic can still be raised in a wedge before it rings. The engineer reads it at soundcheck and types "
            "it in; raises since then use it up."
        ),
        formulas=(
            "left = as read - raise of the send - raise of the output - raise of the preamp not yet compensated "
            "- 10 lg(open mics now / open mics then)",
            "several mics read alone, open together: -10 lg(sum of 10^(-margin / 10))",
        ),
        examples=(
            f"9 dB read with 3 mics open, then send +2, output +1 and 6 mics open: {plain(left)} dB left.",
            f"Two mics of 9 dB each, raised together: {plain(together)} dB.",
            f"A suggestion never goes into the last {plain(settings.reserve_tenths / 10)} dB (the reserve, a setting of "
            f"the show), and below {plain(feedback.LOW_MARGIN_DB)} dB a caution stands beside it. Not measured: at most "
            f"{plain(settings.unmeasured_raise_tenths / 10)} dB in one trip.",
        ),
        rests_on=(
            "The figure that was typed in. EQ, another mic, wedge or position makes it stale.",
            "Mics of equal gain; fewer open mics than at the reading give nothing back.",
        ),
        mind=_INDICATOR
        + " Before a reading: tell the stage; everybody's ears out, heads away from the wedges; that mic off in all "
        "in-ears; steps of 1 dB; stop at the first ring and go back.",
        sources=(
            "Handbook for Sound Engineers, ch. 34: systems are run 6 dB below the onset of feedback.",
            f"Reserve of {plain(feedback.RESERVE_DB)} dB: chosen, since a wedge rings on within about as much of onset "
            "(common practice, no source).",
        ),
    )


def _open_mics() -> Reckoned:
    return Reckoned(
        anchor="open-mics",
        title="Open mics",
        says="What every further open mic costs in gain before feedback.",
        formulas=("cost = 10 lg(number of open mics)",),
        examples=(
            f"2 open mics cost {db(feedback.open_mic_penalty(2))}, 4 cost {db(feedback.open_mic_penalty(4))}, "
            f"10 cost {db(feedback.open_mic_penalty(10))}.",
        ),
        rests_on=("Mics of equal gain; the number is what somebody counted.",),
        mind=_INDICATOR,
        sources=("Handbook for Sound Engineers, ch. 34; printed for 2, 4, 8 and 20 mics in trade columns.",),
    )


def _planned() -> Reckoned:
    potential = feedback.potential_gain(
        talker_to_mic_m=1, talker_to_listener_m=7, mic_to_speaker_m=4, speaker_to_listener_m=6
    )
    needed = feedback.needed_gain(talker_to_listener_m=7, as_near_as_m=3)
    return Reckoned(
        anchor="planned-gain",
        title="Potential and needed gain",
        says=(
            "Planning figures before a stage stands: how much louder a system can make a talker for a listener, and how "
            "much louder the listener needs it. It can work where the first is at least the second."
        ),
        formulas=(
            "potential = 20 lg(D0 · D1 / (Ds · D2)) - 10 lg(open mics) - margin: D0 mouth to listener, D1 mic to "
            "loudspeaker, Ds mouth to mic, D2 loudspeaker to listener",
            "needed = 20 lg(D0 / EAD): EAD the distance at which a voice is heard well unaided",
            "indoors each distance x also carries 10 lg(Dc² + x²), Dc the distance where direct and room sound are equal",
        ),
        examples=(
            f"Mouth to mic 1 m, to the listener 7 m, mic to loudspeaker 4 m, loudspeaker to listener 6 m, one mic, "
            f"{plain(feedback.LOW_MARGIN_DB)} dB kept free: {db(potential)} potential. To be heard as from 3 m: "
            f"{db(needed)} needed.",
        ),
        rests_on=(
            "Mic and loudspeaker without direction, a flat response, equal gains, unity loop gain as the limit.",
            "Authors number the lengths differently: go by what each joins.",
        ),
        mind=_INDICATOR,
        sources=("Handbook for Sound Engineers, ch. 34, eqs 34-5, 34-8 and 34-21 to 34-24.",),
    )
