"""How pan, auxes and the gap plan are reckoned, with examples."""

import math

from monreq.domain import gap_plan, paces, panning, weights
from monreq.web.reckoned import Reckoned, db, plain


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
    return Reckoned(
        anchor="auxes",
        title="Aux plan",
        says="Whether the desk has enough auxes for all mixes, and if not, which mixes could be shared.",
        formulas=(
            "auxes = one for each wedge + two for each in-ear pair + one for each effect",
            "cost of sharing = how far, in dB, the sends of the mixes lie from what all would get",
        ),
        examples=(),
        rests_on=(
            "Only like goes with like; wedges only within reach of each other; the lead singer keeps a mix of their own.",
            "Buses and physical outputs are counted apart: an effect inside the desk takes a bus and no output.",
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
