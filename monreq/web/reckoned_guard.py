"""How far up is advised: the guard, what calls change, what comes in, what is taken back, and preamps, with examples."""

from monreq.domain.decibels import power_ratio, to_db
from monreq.domain.guard_loop import room_tenths
from monreq.domain.setup import Output, Settings
from monreq.domain.starting_low import START_TENTHS
from monreq.web.reckoned import CHOSEN, COMMON_PRACTICE, Reckoned, db, plain
from monreq.web.speech import N_, _

_SETTINGS = Settings()
START_VALUES = N_("Figures are those that a show starts with; its settings may have others.")
_SAFETY = N_(
    "A bound on advice, no safety device: how far a pack is turned up, and what comes from the stage, monreq does not know."
)
_EQUAL_SOURCES = 4
_PREAMP_DB, _SEND_DB = 6.0, -9.0
_TAKEN_BACK_DB = 12.0


def guard_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about raises, in the order of the page."""
    return (_guard(), _calls(), _comes_in(), _undo(), _preamp())


def _guard() -> Reckoned:
    mix = _EQUAL_SOURCES * power_ratio(to_db(_SETTINGS.in_ear_evening_tenths))
    room = room_tenths(mix, 1.0, _EQUAL_SOURCES - 1.0)
    return Reckoned(
        anchor="guard",
        title=_("The guard: how far up is advised"),
        says=_(
            "Every suggestion, key, plan and undo that makes something louder passes one guard, in wedges and in-ears alike. "
            "Down and out is never held back. What a hand did beyond it is recorded as it was."
        ),
        formulas=(
            _(
                "advised = the least of: asked, one trip, what is left of this song or gap, of the evening, of the margin, and "
                "below where it hurt or squealed; never below 0"
            ),
            _("room = 10 lg((10^(bound / 10) · power then - power of what stays) / power of what goes up)"),
        ),
        examples=(
            _(
                "In one trip, and in one song or gap, at most %(in_ears)s in in-ears and %(wedge)s in a wedge. Over the evening "
                "the whole mix at most %(in_ears_evening)s and %(wedge_evening)s, one source %(source)s.",
                in_ears=db(to_db(_SETTINGS.in_ear_raise_tenths)),
                wedge=db(to_db(_SETTINGS.wedge_raise_tenths)),
                in_ears_evening=db(to_db(_SETTINGS.in_ear_evening_tenths)),
                wedge_evening=db(to_db(_SETTINGS.wedge_evening_tenths)),
                source=db(to_db(_SETTINGS.source_evening_tenths)),
            ),
            _(
                "Four equal sources in in-ears: one alone comes to %(room)s, trip by trip, and with it the mix to its %(evening)s.",
                room=db(to_db(room)),
                evening=db(to_db(_SETTINGS.in_ear_evening_tenths)),
            ),
        ),
        rests_on=(
            _(START_VALUES),
            _("Powers are those at the louder ear: pans, preamps, click and talkback count."),
            _("The evening counts from the first soundcheck mark. A later mark gives no new allowance."),
            _(
                "Before the mark it counts from the levels entered, at first from the low start: a figure typed for a source "
                "begins the count of that source anew, one typed for all that is on in a mix the count of the whole mix."
            ),
            _(
                "Whatever was said of songs, the last %(seconds)s s always count as one gap: before the first song that is the "
                "time to listen between two steps.",
                seconds=_SETTINGS.gap_s,
            ),
            _(
                "Once a day's dose may be full before a song of %(seconds)s s is over, nothing is suggested that makes that "
                "mix louder, comes in, or gives an ear more by its pan.",
                seconds=_SETTINGS.song_s,
            ),
            _("An open desk shows that by itself; a raise that it showed before is not entered any more."),
        ),
        mind=(_(_SAFETY), _("Beyond the evening's bound only a typed figure goes, and it is asked about.")),
        sources=(
            _(
                "Bounds: chosen. 3 dB halve the allowed time (NIOSH 98-126); 10 dB are about twice as loud (sone, ISO 532-1)."
            ),
        ),
    )


def _calls() -> Reckoned:
    stood = -4.0
    return Reckoned(
        anchor="calls",
        title=_("After a squeal, and after hurts"),
        says=_("What the stage calls counts for more than any reading."),
        formulas=(
            _("after a squeal: what can ring and was on at most what it came to then - reserve"),
            _("after hurts: each source, and the whole mix, at most what they came to then - reserve"),
        ),
        examples=(
            _(
                "First key at hurts: output %(hurts)s. At a squeal: the last raise there back, if that is %(squeal)s at least, "
                "else output %(squeal)s.",
                hurts=db(to_db(_SETTINGS.hurts_tenths)),
                squeal=db(to_db(_SETTINGS.squeal_tenths)),
            ),
            _(
                "Voice came to %(stood)s when it squealed: until it is rung out again, suggestions end at %(most)s.",
                stood=plain(stood),
                most=plain(stood - to_db(_SETTINGS.reserve_tenths)),
            ),
        ),
        rests_on=(
            _(START_VALUES),
            _(
                "All readings of a wedge count as stale after a squeal there, until the mic is rung out again."
            ),
            _("The last raise: since the mark, in the last song and gap, of the output or of what can ring."),
            _("After hurts it holds for the evening, or until the call is withdrawn."),
        ),
        mind=(
            _("it may be another wedge or the house"),
            _(
                'Never raise on a word like "I hear nothing": pack down or both out first, the wedge\'s output down, then look '
                "for what is broken."
            ),
        ),
        sources=(_(CHOSEN),),
    )


def _comes_in() -> Reckoned:
    start = to_db(START_TENTHS[Output.IN_EAR_PAIR])
    return Reckoned(
        anchor="comes-in",
        title=_("What comes in"),
        says=_("A source that is off may have been moved meanwhile: nobody heard how loud it comes in."),
        formulas=(
            _(
                "comes in at = the least of: where it stands, what it was last heard at or began with, what wedge and ear take"
            ),
        ),
        examples=(
            _(
                "Keys, last heard at %(heard)s and standing at %(stands)s: in at %(heard)s. In in-ears where nobody ever heard "
                "them: at most %(start)s.",
                heard=plain(-10),
                stands=plain(5),
                start=plain(start),
            ),
        ),
        rests_on=(
            _("A mix grows by no more than one trip when something comes in."),
            _("What it comes to counts, with preamp and output: a gain turned up meanwhile lowers the send."),
        ),
        mind=(_(_SAFETY),),
        sources=(_(CHOSEN),),
    )


def _undo() -> Reckoned:
    step = to_db(_SETTINGS.in_ear_raise_tenths)
    return Reckoned(
        anchor="undo",
        title=_("Undo upwards"),
        says=_(
            "To take back a turn-down is a raise like any other: it goes in steps, and what is left waits in the queue to be put "
            "back."
        ),
        formulas=(_("to be put back = taken back - what the guard lets go up now"),),
        examples=(
            _(
                "In in-ears %(down)s of an earlier song is undone: %(step)s now, %(left)s to be put back.",
                down=db(-_TAKEN_BACK_DB),
                step=db(step),
                left=db(_TAKEN_BACK_DB - step),
            ),
        ),
        rests_on=(
            _(
                "Up to where it stood when this song or gap began it goes in one go: it was heard there just now."
            ),
            _("What was lowered for a plan that is given up waits to be put back as well."),
        ),
        mind=(_("A margin read in between counts: the rest may have to stay down."),),
        sources=(_(COMMON_PRACTICE),),
    )


def _preamp() -> Reckoned:
    return Reckoned(
        anchor="preamp",
        title=_("Preamp compensation"),
        says=_(
            "Gain turned at a preamp changes every mix that hears it. Each gets a row that makes up for it, in the order that "
            "is never louder on the way."
        ),
        formulas=(
            _("send = its level - change of the gain"),
            _("gain up: all sends down first, then the gain; gain down: the gain first, then the sends up"),
        ),
        examples=(
            _(
                "Gain %(gain)s: a send at %(before)s goes to %(after)s first.",
                gain=db(_PREAMP_DB),
                before=plain(_SEND_DB),
                after=plain(_SEND_DB - _PREAMP_DB),
            ),
        ),
        rests_on=(
            _(
                "A planned raise spends margin beforehand; a planned turn-down gives none back before it is done."
            ),
            _(
                "What makes up for a turn-down may go past the bounds of one trip, up to where it stood before, unless a call or a "
                "reading since speaks against it."
            ),
            _("Only sends that are on get a row; what is off comes in lower instead."),
            _("A return counts as if any mic fed it: which one does, monreq does not know."),
        ),
        mind=(
            _("House fader, thresholds of gates and compressors and the recording send move with the gain."),
            _("The gain is not taken as turned while a row is open, unless a second key says so."),
        ),
        sources=(_(COMMON_PRACTICE),),
    )
