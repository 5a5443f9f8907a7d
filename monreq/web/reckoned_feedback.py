"""How feedback margins and planned gain are reckoned, with examples."""

from monreq.domain import feedback
from monreq.domain.decibels import power_ratio, to_db
from monreq.domain.fold_held import SHORTEST_SONG_MS
from monreq.domain.guard_ear import MS_PER_S
from monreq.domain.guard_loop import floored, room_tenths
from monreq.domain.setup import Settings
from monreq.web.reckoned import Reckoned, db, plain
from monreq.web.speech import N_, _

_INDICATOR = N_(
    "An indicator and no promise: a mic's direction, a wedge's aim, EQ, a hand around a mic or a hat move the truth by "
    "many dB."
)
RING_OUT = N_(
    "Limiters stay in and nobody stands near a wedge or listens on cue at level: the engineer's ears are protected too."
)
_OF_MICS, _READ_DB = 4, 12.0


def feedback_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about feedback, in the order of the page."""
    return (_margin(), _reserve(), _open_mics(), _planned())


def _margin() -> Reckoned:
    settings = Settings()
    return Reckoned(
        anchor="margin",
        title=_("Feedback margin of a mic in a wedge"),
        says=_(
            "How far a mic can still be raised in a wedge before it rings. The engineer reads it at soundcheck and types "
            "it in; raises since then use it up."
        ),
        formulas=(
            _(
                "left = as read - raise of the send - raise of the output - raise of the preamp not yet compensated "
                "- 10 lg(open mics now / open mics then)"
            ),
            _("several mics read alone, open together: -10 lg(sum of 10^(-margin / 10))"),
        ),
        examples=(
            _(
                "9 dB read with 3 mics open, then send +2, output +1 and 6 mics open: %(left)s dB left.",
                left=plain(feedback.margin_after(9, 2, 1, 3, 6)),
            ),
            _(
                "Two mics of 9 dB each, raised together: %(together)s dB.",
                together=plain(feedback.combined_margin([9, 9])),
            ),
            _(
                "A suggestion never goes into the last %(reserve)s dB (the reserve, a setting of the show), and below "
                "%(low)s dB a caution stands beside it.",
                reserve=plain(settings.reserve_tenths / 10),
                low=plain(feedback.LOW_MARGIN_DB),
            ),
            _beyond_known(),
        ),
        rests_on=(
            _("The figure that was typed in. EQ, another mic, wedge or position makes it stale."),
            _("Mics of equal gain; fewer open mics than at the reading give nothing back."),
        ),
        mind=(
            _(_INDICATOR),
            _(
                "Before a reading: tell the stage; everybody's ears out, heads away from the wedges; that mic off in all "
                "in-ears; steps of 1 dB; stop at the first ring and go back."
            ),
            _(RING_OUT),
        ),
        sources=(
            _("Handbook for Sound Engineers, ch. 34: systems are run 6 dB below the onset of feedback."),
            _(
                "Reserve of %(reserve)s dB: chosen, since a wedge rings on within about as much of onset (common practice, "
                "no source).",
                reserve=plain(feedback.RESERVE_DB),
            ),
        ),
    )


def _beyond_known() -> str:
    return _(
        "Not measured: at most %(unmeasured)s above what it began with, all raises together, or up to what stood "
        "a whole song of at least %(seconds)s s, together with all that is on now, without a squeal being called.",
        unmeasured=db(to_db(Settings().unmeasured_raise_tenths)),
        seconds=SHORTEST_SONG_MS // MS_PER_S,
    )


def _reserve() -> Reckoned:
    reserve = to_db(Settings().reserve_tenths)
    one = power_ratio(-_READ_DB)
    room = room_tenths(power_ratio(-reserve), one, (_OF_MICS - 1) * one)
    counted = floored(feedback.margin_after(_READ_DB, 0, 0, 1, _OF_MICS) - reserve)
    return Reckoned(
        anchor="reserve",
        title=_("The reserve, for all mics of a wedge together"),
        says=_(
            "Mics that are on in a wedge sound into one another's path. So each raise keeps the reserve for all of them together."
        ),
        formulas=(
            _("d = 10 lg((10^(-reserve / 10) - sum of the others) / own)"),
            _("own, and each other = 10^(-margin left / 10)"),
            _(
                "those that were read with others open: times (1 - G) / (1 - 10^(-margin as read / 10)), "
                "G = S / (1 + S), S = sum of 1 / (10^(margin as read / 10) - 1)"
            ),
        ),
        examples=(
            _(
                "%(mics)s mics are on, each read alone at %(read)s dB: one could rise by %(room)s. Counted as open mics: "
                "%(counted)s. The lesser is advised.",
                mics=_OF_MICS,
                read=plain(_READ_DB),
                room=db(to_db(room)),
                counted=db(to_db(counted)),
            ),
        ),
        rests_on=(
            _("Open mics count as many as somebody counted, and at least those that are on in the wedge."),
            _(
                "What can ring: open mics, effect returns, and a pickup in a body that sounds, such as an acoustic guitar's, if "
                "the input list says so."
            ),
        ),
        mind=(_(_INDICATOR),),
        sources=(
            _(
                "Follows from loop gains added as powers; for equal mics, Handbook for Sound Engineers, ch. 34."
            ),
        ),
    )


def _open_mics() -> Reckoned:
    return Reckoned(
        anchor="open-mics",
        title=_("Open mics"),
        says=_("What every further open mic costs in gain before feedback."),
        formulas=(_("cost = 10 lg(number of open mics)"),),
        examples=(
            _(
                "2 open mics cost %(two)s, 4 cost %(four)s, 10 cost %(ten)s.",
                two=db(feedback.open_mic_penalty(2)),
                four=db(feedback.open_mic_penalty(4)),
                ten=db(feedback.open_mic_penalty(10)),
            ),
        ),
        rests_on=(_("Mics of equal gain; the number is what somebody counted."),),
        mind=(_(_INDICATOR),),
        sources=(
            _("Handbook for Sound Engineers, ch. 34; printed for 2, 4, 8 and 20 mics in trade columns."),
        ),
    )


def _planned() -> Reckoned:
    potential = feedback.potential_gain(
        talker_to_mic_m=1, talker_to_listener_m=7, mic_to_speaker_m=4, speaker_to_listener_m=6
    )
    needed = feedback.needed_gain(talker_to_listener_m=7, as_near_as_m=3)
    return Reckoned(
        anchor="planned-gain",
        title=_("Potential and needed gain"),
        says=_(
            "Planning figures before a stage stands: how much louder a system can make a talker for a listener, and how "
            "much louder the listener needs it. It can work where the first is at least the second."
        ),
        formulas=(
            _(
                "potential = 20 lg(D0 · D1 / (Ds · D2)) - 10 lg(open mics) - margin: D0 mouth to listener, D1 mic to "
                "loudspeaker, Ds mouth to mic, D2 loudspeaker to listener"
            ),
            _("needed = 20 lg(D0 / EAD): EAD the distance at which a voice is heard well unaided"),
            _(
                "potential indoors = potential - 10 lg(g(D0) · g(D1) / (g(Ds) · g(D2))), g(x) = Dc² + x², Dc the distance where "
                "direct and room sound are equal"
            ),
        ),
        examples=(
            _(
                "Mouth to mic 1 m, to the listener 7 m, mic to loudspeaker 4 m, loudspeaker to listener 6 m, one mic, "
                "%(kept)s dB kept free: %(potential)s potential. To be heard as from 3 m: %(needed)s needed.",
                kept=plain(feedback.LOW_MARGIN_DB),
                potential=db(potential),
                needed=db(needed),
            ),
        ),
        rests_on=(
            _(
                "Mic and loudspeaker without direction, a flat response, equal gains, unity loop gain as the limit."
            ),
            _("Authors number the lengths differently: go by what each joins."),
        ),
        mind=(_(_INDICATOR),),
        sources=(_("Handbook for Sound Engineers, ch. 34, eqs 34-5, 34-8 and 34-21 to 34-24."),),
    )
