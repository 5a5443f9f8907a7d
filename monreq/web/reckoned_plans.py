"""How pan, auxes and the gap plan are reckoned, with examples."""

import math

from monreq.domain import aux_plan, gap_plan, paces, panning, weights
from monreq.domain.asked_up import LATELY_MS, MIXES_FOR_GAIN
from monreq.domain.aux_outputs import Desk
from monreq.domain.aux_partition import MOST_EXACT
from monreq.domain.aux_sharing import AS_GOOD_AS_OFF_DB, REACH_M, Wanted
from monreq.domain.setup import Output
from monreq.web.reckoned import COMMON_PRACTICE, Reckoned, db, plain
from monreq.web.speech import _, listed

_TWO_WEDGES = (
    Wanted("left", Output.WEDGE, levels={"voice": -6.0, "kick": -10.0}, place=(0.0, 0.0)),
    Wanted("right", Output.WEDGE, levels={"voice": -6.0, "kick": -4.0}, place=(1.0, 0.0)),
)
_OTHERS = 50


def plan_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about plans, in the order of the page."""
    return (_pan(), _auxes(), _gap(), _asked_up())


def _pan() -> Reckoned:
    middle = 20 * math.log10(panning.constant_power(0)[0])
    pan = panning.from_stage((0, 0), 0, (3, 0), panning.STARTING_WIDTH)
    return Reckoned(
        anchor="pan",
        title=_("Pan from the stage plan"),
        says=_(
            "In a stereo in-ear pair a source starts where it stands for that musician: at their left, on the left."
        ),
        formulas=(
            _("pan = width · sine of the bearing to the musician's right, -1 left to +1 right"),
            _("left = cos((pan + 1) · 45°), right = sin((pan + 1) · 45°)"),
        ),
        examples=(
            _(
                "In the middle both sides are at %(level)s, so that the power is the same everywhere.",
                level=db(middle),
            ),
            _(
                "A source straight at the left hand, at a width of %(width)s: pan %(pan)s.",
                width=plain(panning.STARTING_WIDTH),
                pan=plain(pan),
            ),
        ),
        rests_on=(
            _(
                "Places and facing as drawn. A source behind is placed by its side; click, talkback and what is called kick or "
                "bass stay in the middle unless somebody said otherwise, and so does what stands beside its own musician."
            ),
        ),
        mind=(_("A start for the ear, no angle: on in-ears there is no base of loudspeakers."),),
        sources=(
            _("Sine and cosine law: J. O. Smith, Spectral Audio Signal Processing."),
            _("Left goes left: common practice, no source. Width: chosen."),
        ),
    )


def _auxes() -> Reckoned:
    shared = aux_plan.plan(Desk(mono=1, stereo=0), _TWO_WEDGES).sharing
    return Reckoned(
        anchor="auxes",
        title=_("Aux plan"),
        says=_("Whether the desk has enough auxes for all mixes, and if not, which mixes could be shared."),
        formulas=(
            _("auxes = wedges + 2 · in-ear pairs + effect sends; a shared mix counts once"),
            _("a shared mix = the mean of its mixes, source by source"),
            _("cost = root of the mean square of how far each send lies from what its musician wants"),
        ),
        examples=(
            _(
                "Five wedges and one effect take %(wedges)s auxes, five in-ear pairs and one effect %(in_ears)s; 8 mono "
                "and 6 stereo auxes carry %(mixes)s separate mixes.",
                wedges=aux_plan.auxes_needed(wedges=5, in_ear_pairs=0, effects=1),
                in_ears=aux_plan.auxes_needed(wedges=0, in_ear_pairs=5, effects=1),
                mixes=aux_plan.mixes_possible(8, 6),
            ),
            _(
                "Two wedges side by side, alike but for one of two sources that stands 6 dB apart: shared at a cost of "
                "%(cost)s dB.",
                cost=plain(shared.off_by_db if shared else math.inf),
            ),
        ),
        rests_on=(
            _(
                "Only like goes with like; wedges only within %(reach)s m of each other (chosen); the lead singer keeps a "
                "mix of their own.",
                reach=plain(REACH_M),
            ),
            _(
                "Buses and physical outputs are counted apart: an effect inside the desk takes a bus and no output."
            ),
            _("What is off counts as if it stood at %(level)s dB (chosen).", level=plain(AS_GOOD_AS_OFF_DB)),
            _("Exact up to %(mixes)s mixes of one kind, step by step beyond.", mixes=MOST_EXACT),
        ),
        mind=(_("A proposal. Who shares a mix is for the musicians to say."),),
        sources=(_("Counts of outputs: common practice, no source."),),
    )


def _gap() -> Reckoned:
    return Reckoned(
        anchor="gap",
        title=_("Gap plan"),
        says=_(
            "In which order the waiting rows are worked between two songs. On simulated evenings this plan is worth no more than "
            "the plainest order, the longest waiting mix first and all of its rows. Urgent calls are not planned: they stand "
            "first."
        ),
        formulas=(
            _("cost of an order = sum of weight · (time until done + one song, if it ends after the gap)"),
            _(
                "weight = (1 + %(further)s for each further ask, up to %(most)s asks) · 2^(rounds waited), a round being a "
                "song and the gap after it",
                further=plain(weights.PER_FURTHER_ASK),
                most=weights.MOST_ASKS,
            ),
        ),
        examples=_gap_examples(),
        rests_on=(
            _(
                "Times: at first %(move)s s for a move and %(setup)s s to go to another mix (chosen), then what this "
                "engineer's own answers took.",
                move=plain(paces.START_MOVE_S),
                setup=plain(paces.START_SETUP_S),
            ),
            _(
                "Exact for ten rows of any kind and more where few orders can be best; beyond that near the best, and the "
                "plan says how near at least."
            ),
        ),
        mind=(
            _("One ordering of the list. Any row can be worked at any time."),
            _(
                "What helped far more on those evenings: to stand by at the mix that comes first while the song still runs, and to "
                "make moves then that can be made safely, such as down."
            ),
        ),
        sources=(
            _("W. E. Smith, Naval Research Logistics Quarterly 3, 1956, for one mix and no end of the gap."),
            _(
                "200 simulated evenings at each of three loads, this plan against other orders: our own trial."
            ),
        ),
    )


def _gap_examples() -> tuple[str, ...]:
    rows = [
        gap_plan.Row("kick", "bass", paces.START_MOVE_S, weights.weight(1, 0, round_s=300)),
        gap_plan.Row("guitar", "voice", paces.START_MOVE_S, weights.weight(1, 0, round_s=300)),
        gap_plan.Row("snare", "bass", paces.START_MOVE_S, weights.weight(3, 360, round_s=300)),
    ]
    names = {"kick": _("kick"), "guitar": _("guitar"), "snare": _("snare")}
    plan = gap_plan.plan(rows, 30, setup_s=paces.START_SETUP_S, song_s=240)
    waited = weights.gaps_until_done(
        move_s=paces.START_MOVE_S, setup_s=paces.START_SETUP_S, song_s=240, others=_OTHERS
    )
    return (
        _(
            "Kick and snare wait in one mix, guitar in another; snare was asked three times and waits for 6 minutes. "
            "Planned: %(order)s.",
            order=listed(names[row] for row in plan.order),
        ),
        _(
            "With %(others)s other rows waiting and songs of 4 minutes no row of an exact plan is put off by newer ones after "
            "%(gaps)s gaps. A list of so many rows is not planned exactly, so there it is no promise.",
            others=_OTHERS,
            gaps=waited,
        ),
    )


def _asked_up() -> Reckoned:
    return Reckoned(
        anchor="asked-up",
        title=_("Asked up in three mixes"),
        says=_("One source that several mixes want more of: perhaps the gain of its channel is low."),
        formulas=(
            _(
                "told if the mixes that ask more of it, or got more within %(minutes)s min, are %(mixes)s or more",
                minutes=LATELY_MS // 60_000,
                mixes=MIXES_FOR_GAIN,
            ),
        ),
        examples=(
            _(
                "Keys: two mixes ask for more, a third got more 10 minutes ago: it is told. Of two alone it is not."
            ),
        ),
        rests_on=(
            _(
                "Only what was asked since the soundcheck mark, and since its preamp was last turned or planned."
            ),
        ),
        mind=(
            _(
                "A question, no finding: are they playing, is the mic close? Gain that goes up is compensated in every mix first."
            ),
        ),
        sources=(_(COMMON_PRACTICE),),
    )
