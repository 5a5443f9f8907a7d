"""What goes from one show, or one song, to the next: start levels, conversion, songs, what lasted, and typed figures."""

from monreq.domain.decibels import to_db
from monreq.domain.outliers import UNUSUAL_SCORE, modified_z_score
from monreq.domain.sense import JUMP_TENTHS
from monreq.domain.setup import Output
from monreq.domain.start_mixes import FORWARD_TENTHS
from monreq.domain.starting_low import FED_MONO_TENTHS, START_OUTPUT_TENTHS, START_TENTHS
from monreq.domain.unusual import FEWEST_BESIDE, FEWEST_SHOWS, LEAST_MAD_TENTHS, MOST_SHOWS
from monreq.web.reckoned import CHOSEN, Reckoned, db, plain
from monreq.web.speech import N_, _, listed

_IN_EARS = to_db(START_TENTHS[Output.IN_EAR_PAIR])
_IN_EARS_OUTPUT = to_db(START_OUTPUT_TENTHS[Output.IN_EAR_PAIR])
_LOUDEST_DB, _OUTPUT_DB, _STEREO_OUTPUT_DB = -4.0, -6.0, -12.0
_SONG_DB, _WHOLE_DB = -6.0, -9.0
_LASTED_DB, _GAINED_DB = 2.0, 6.0
_SHOWS_BEFORE = (0.0, 1.0, -1.0, 2.0, 0.0)
_TYPED_DB = 14.0
_BY_EAR = N_("No level is known to suit an ear: everybody listens in low, then it is raised by ear.")


def show_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about starts and figures, in the order of the page."""
    return (_starts(), _conversion(), _songs(), _lasted(), _typed())


def _starts() -> Reckoned:
    forward = to_db(FORWARD_TENTHS)
    return Reckoned(
        anchor="start",
        title=_("Start levels"),
        says=_("Where a new mix begins, before anybody asked: low, the own source forward."),
        formulas=(_("own source = start level + %(forward)s", forward=plain(forward)),),
        examples=(
            _(
                "Wedge: sends %(wedge)s, own source %(own)s, output %(output)s.",
                wedge=plain(to_db(START_TENTHS[Output.WEDGE])),
                own=plain(to_db(START_TENTHS[Output.WEDGE]) + forward),
                output=plain(to_db(START_OUTPUT_TENTHS[Output.WEDGE])),
            ),
            _(
                "In-ear pair: sends %(in_ears)s, own source %(own)s, output %(output)s.",
                in_ears=plain(_IN_EARS),
                own=plain(_IN_EARS + forward),
                output=plain(_IN_EARS_OUTPUT),
            ),
        ),
        rests_on=(
            _("Own is what stands beside its musician on the stage plan, else what is named like the chair."),
        ),
        mind=(_(_BY_EAR), _("Never one earpiece only: the ear that stays is turned up.")),
        sources=(
            _("Chosen: low enough at any usual gain, high enough to be found by ear; 10 dB more lead."),
        ),
    )


def _conversion() -> Reckoned:
    shift = min(0.0, _IN_EARS - _LOUDEST_DB)
    return Reckoned(
        anchor="conversion",
        title=_("From wedge to in-ears, and back"),
        says=_(
            "A mix that comes from another output, or goes into other packs, keeps its balance and starts low: its old loudness "
            "says nothing there."
        ),
        formulas=(
            _("all sends move by min(0, start level - loudest send)"),
            _("output = min(start output, output before - 10 lg 2 where in-ears are fed mono from now on)"),
            _("to mono: levels stay, since cos^2 + sin^2 = 1"),
        ),
        examples=(
            _(
                "Loudest send %(loudest)s into in-ears: all sends %(shift)s; output %(before)s to %(after)s.",
                loudest=plain(_LOUDEST_DB),
                shift=db(shift),
                before=plain(_OUTPUT_DB),
                after=plain(min(_OUTPUT_DB, _IN_EARS_OUTPUT)),
            ),
            _(
                "Fed mono from now on, output at %(before)s: to %(after)s.",
                before=plain(_STEREO_OUTPUT_DB),
                after=plain(min(_IN_EARS_OUTPUT, _STEREO_OUTPUT_DB + to_db(FED_MONO_TENTHS))),
            ),
        ),
        rests_on=(
            _("Sends that are off count for the loudest too: they may be asked for."),
            _("If somebody reads one level off the new desk, all sends follow that instead."),
            _("Click and audience mics do not go into a wedge; what is missing or new is told."),
        ),
        mind=(
            _(_BY_EAR),
            _(
                "No margin carries over to another room or wedge; what was said of limiter and pack is asked again."
            ),
        ),
        sources=(_("Constant power: J. O. Smith, Spectral Audio Signal Processing."),),
    )


def _songs() -> Reckoned:
    more = _SONG_DB - _WHOLE_DB
    return Reckoned(
        anchor="songs",
        title=_("Moves for a song"),
        says=_("A song asks for its difference to the rest of the show, not for a level of another evening."),
        formulas=(
            _("difference = (send + preamp) in the song - (send + preamp) for the whole show"),
            _(
                "set to = level at the mark + difference, no farther than the difference from where it stands without songs"
            ),
        ),
        examples=(
            _(
                "Voice %(song)s for the song, %(whole)s for the whole show: %(more)s. At the mark it stood at %(mark)s, since then "
                "somebody wanted %(less)s: the song asks for %(more)s, to %(to)s.",
                song=plain(_SONG_DB),
                whole=plain(_WHOLE_DB),
                more=db(more),
                mark=plain(-5),
                less=db(-2),
                to=plain(-5 - 2 + more),
            ),
        ),
        rests_on=(
            _(
                "Both mixes were kept on one evening and heard in the same way; else the desk is told why not."
            ),
            _("After the song it is asked back, unless somebody moved it meanwhile."),
        ),
        mind=(_("It waits in the queue like any request, and the guard bounds it."),),
        sources=(_(CHOSEN),),
    )


def _lasted() -> Reckoned:
    return Reckoned(
        anchor="lasted",
        title=_("What lasted of an evening"),
        says=_(
            "What is proposed for keeping after a show: the balance as it lasted, as loud at the louder ear as at the mark, click "
            "and pans counted, so that no show begins where tired ears ended the last."
        ),
        formulas=(
            _("lasted = what stood for more than half of the second half since the mark"),
            _(
                "output kept = output that lasted - what the mix gained at the louder ear since the mark, never above it"
            ),
        ),
        examples=(
            _(
                "Output %(lasted)s at the end, the mix %(gained)s up: kept at %(kept)s.",
                lasted=plain(_LASTED_DB),
                gained=db(_GAINED_DB),
                kept=plain(_LASTED_DB - _GAINED_DB),
            ),
        ),
        rests_on=(
            _("What was back within the time of a song counts as a move of the moment."),
            _(
                "The first soundcheck mark; without one the start. Where nothing stood so long: the last that stood a song."
            ),
        ),
        mind=(_("A proposal: the engineer or the musicians say what is kept."),),
        sources=(_(CHOSEN),),
    )


def _typed() -> Reckoned:
    score = modified_z_score(_TYPED_DB, _SHOWS_BEFORE, to_db(LEAST_MAD_TENTHS))
    within = to_db(LEAST_MAD_TENTHS) * UNUSUAL_SCORE / modified_z_score(1.0, [0.0], 1.0)
    return Reckoned(
        anchor="typed",
        title=_("Typed figures that are asked about"),
        says=_(
            "A typed figure that makes little sense is asked about once; the same again confirms it. It is also asked where it "
            "goes against what was asked, by more than %(jump)s dB in one go, into the reserve, past the evening's bound, or to "
            "where it squealed or hurt.",
            jump=plain(to_db(JUMP_TENTHS)),
        ),
        formulas=(
            _(
                "score = %(factor)s · (level - median of shows before) / MAD; asked about beyond ±%(bound)s",
                factor=plain(modified_z_score(1.0, [0.0], 1.0), 4),
                bound=plain(UNUSUAL_SCORE),
            ),
            _(
                "MAD = median of the distances from the median, at least %(least)s dB",
                least=plain(to_db(LEAST_MAD_TENTHS)),
            ),
        ),
        examples=(
            _(
                "Shows before: %(shows)s. Typed %(typed)s: score %(score)s, so it is asked about.",
                shows=listed(db(one) for one in _SHOWS_BEFORE),
                typed=db(_TYPED_DB),
                score=plain(score),
            ),
        ),
        rests_on=(
            _(
                "%(fewest)s to %(most)s shows of the same chair, heard in the same way. Desk and pack are taken out by the median of "
                "at least %(beside)s other sends.",
                fewest=FEWEST_SHOWS,
                most=MOST_SHOWS,
                beside=FEWEST_BESIDE,
            ),
            _("So nothing within %(within)s dB of the usual is asked about.", within=plain(within)),
        ),
        mind=(_("Unusual is not wrong: another mic, another room or another wish look the same."),),
        sources=(
            _("Iglewicz and Hoaglin, 1993; NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17."),
        ),
    )
