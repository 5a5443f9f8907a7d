"""How pan, auxes and the gap plan are reckoned, with examples."""

import math

from monreq.domain import aux_plan, gap_plan, paces, panning, weights
from monreq.domain.aux_outputs import Desk
from monreq.domain.aux_partition import MOST_EXACT
from monreq.domain.aux_sharing import AS_GOOD_AS_OFF_DB, REACH_M, Wanted
from monreq.domain.setup import Output
from monreq.web.reckoned import Reckoned, db, plain

_TWO_WEDGES = (
    Wanted("left", Output.WEDGE, levels={"voice": -6.0, "kick": -10.0}, place=(0.0, 0.0)),
    Wanted("right", Output.WEDGE, levels={"voice": -6.0, "kick": -4.0}, place=(1.0, 0.0)),
)


def plan_chapters() -> tuple[Reckoned, ...]:
    """Return what is told about plans, in the order of the page."""
    return (_pan(), _auxes(), _gap())


def _pan() -> Reckoned:
    middle = 20 * math.log10(panning.constant_power(0)[0])
    pan = panning.from_stage((0, 0), 0, (3, 0), panning.STARTING_WIDTH)
    return Reckoned(
        anchor="pan",
        title="Pan from the stage plan",
        says="In a stereo in-ear pair a source starts where it stands for that musician: at their left, on the left.",
        formulas=(
            "pan = width · sine of the bearing to the musician's right, -1 left to +1 right",
            "left = cos((pan + 1) · 45°), right = sin((pan + 1) · 45°)",
        ),
        examples=(
            f"In the middle both sides are at {db(middle)}, so that the power is the same everywhere.",
            f"A source straight at the left hand, at a width of {plain(panning.STARTING_WIDTH)}: pan {plain(pan)}.",
        ),
        rests_on=(
            "Places and facing as drawn. A source behind is placed by its side; kick, bass, click, talkback and the own "
            "voice stay in the middle.",
        ),
        mind="A start for the ear, no angle: on in-ears there is no base of loudspeakers.",
        sources=(
            "Sine and cosine law: J. O. Smith, Spectral Audio Signal Processing.",
            "Left goes left: common practice, no source. Width: chosen.",
        ),
    )


def _auxes() -> Reckoned:
    needed = aux_plan.auxes_needed(wedges=5, in_ear_pairs=0, effects=1)
    in_ears = aux_plan.auxes_needed(wedges=0, in_ear_pairs=5, effects=1)
    shared = aux_plan.plan(Desk(mono=1, stereo=0), _TWO_WEDGES).sharing
    off_by_db = shared.off_by_db if shared else math.inf
    return Reckoned(
        anchor="auxes",
        title="Aux plan",
        says="Whether the desk has enough auxes for all mixes, and if not, which mixes could be shared.",
        formulas=(
            "auxes = wedges + 2 · in-ear pairs + effect sends; a shared mix counts once",
            "a shared mix = the mean of its mixes, source by source",
            "cost = root of the mean square of how far each send lies from what its musician wants",
        ),
        examples=(
            f"Five wedges and one effect take {needed} auxes, five in-ear pairs and one effect {in_ears}; 8 mono and 6 "
            f"stereo auxes carry {aux_plan.mixes_possible(8, 6)} separate mixes.",
            f"Two wedges side by side, alike but for one of two sources that stands 6 dB apart: shared at a cost of "
            f"{plain(off_by_db)} dB.",
        ),
        rests_on=(
            f"Only like goes with like; wedges only within {plain(REACH_M)} m of each other (chosen); the lead singer "
            "keeps a mix of their own.",
            "Buses and physical outputs are counted apart: an effect inside the desk takes a bus and no output.",
            f"What is off counts as if it stood at {plain(AS_GOOD_AS_OFF_DB)} dB (chosen).",
            f"Exact up to {MOST_EXACT} mixes of one kind, step by step beyond.",
        ),
        mind="A proposal. Who shares a mix is for the musicians to say.",
        sources=("Counts of outputs: common practice, no source.",),
    )


def _gap() -> Reckoned:
    rows = [
        gap_plan.Row("kick", "bass", paces.START_MOVE_S, weights.weight(1, 0, round_s=300)),
        gap_plan.Row("guitar", "voice", paces.START_MOVE_S, weights.weight(1, 0, round_s=300)),
        gap_plan.Row("snare", "bass", paces.START_MOVE_S, weights.weight(3, 360, round_s=300)),
    ]
    plan = gap_plan.plan(rows, 30, setup_s=paces.START_SETUP_S, song_s=240)
    waited = weights.gaps_until_done(
        move_s=paces.START_MOVE_S, setup_s=paces.START_SETUP_S, song_s=240, others=50
    )
    return Reckoned(
        anchor="gap",
        title="Gap plan",
        says=(
            "In which order the waiting rows are worked between two songs, so that those who wait most and matter most "
            "wait least. Urgent calls are not planned: they stand first."
        ),
        formulas=(
            "cost of an order = sum of weight · (time until done + one song, if it ends after the gap)",
            f"weight = (1 + {plain(weights.PER_FURTHER_ASK)} for each further ask, up to {weights.MOST_ASKS} asks) "
            "· 2^(rounds waited), a round being a song and the gap after it",
        ),
        examples=(
            f"Kick and snare wait in one mix, guitar in another; snare was asked three times and waits for 6 minutes. "
            f"Planned: {', '.join(plan.order)}.",
            f"With 50 other rows waiting and songs of 4 minutes no row is put off by newer ones after {waited} gaps (bound of an exact plan).",
        ),
        rests_on=(
            f"Times: at first {plain(paces.START_MOVE_S)} s for a move and {plain(paces.START_SETUP_S)} s to go to "
            "another mix (chosen), then what this engineer's own answers took.",
            "Exact for ten rows of any kind and more where few orders can be best; beyond that near the best, and the "
            "plan says how near at least.",
        ),
        mind="One ordering of the list. Any row can be worked at any time.",
        sources=(
            "W. E. Smith, Naval Research Logistics Quarterly 3, 1956, for one mix and no end of the gap.",
        ),
    )
