"""A mix's history in words: what was asked, done, measured and turned."""

from monreq.domain import measuring_commands as m
from monreq.domain.hearing import Heard
from monreq.domain.hearing_commands import SayHeard
from monreq.domain.history import history
from monreq.domain.readings import EarMethod
from monreq.domain.requests import Way
from monreq.domain.subjects import EVERY_MIX, mix_subject, subjects
from monreq.web.history_view import history_lines
from tests.support.stage import Stage, small_stage

MINUS = "\N{MINUS SIGN}"


def said(stage: Stage, mix: str, last: int) -> list[str]:
    """Return what the last lines of a mix's history say, the newest first."""
    wanted = {mix_subject(mix), EVERY_MIX}
    log = [one for one in stage.log if wanted.intersection(subjects(one.event))]
    lines = history_lines(stage.show, history(log))[:last]
    return [" | ".join(part for part in (line.what, line.source, line.figures) if part) for line in lines]


def test_a_plain_answer_tells_where_the_hand_went() -> None:
    stage = small_stage()

    stage.done(stage.ask("front", "guitar", 60), change=30, why="near_feedback")

    assert said(stage, "front", 2) == [
        f"done | Guitar | {MINUS}20 to {MINUS}17; near feedback",
        "asked | Guitar | +6",
    ]


def test_the_same_loudness_tells_of_the_output_too() -> None:
    stage = small_stage()

    stage.done(stage.ask("front", "guitar", 60), way=Way.SAME_LOUDNESS)

    assert said(stage, "front", 1) == [
        f"done | Guitar | {MINUS}20 to {MINUS}14; same loudness: output 0 to {MINUS}3"
    ]


def test_rest_down_tells_of_each_send_and_so_does_its_undoing() -> None:
    stage = small_stage()

    stage.undo(stage.done(stage.ask("front", "guitar", 60), way=Way.REST_DOWN))

    assert said(stage, "front", 2) == [
        f"undone | Guitar | rest down: Voice {MINUS}26 to {MINUS}20, Drums {MINUS}26 to {MINUS}20",
        f"done | Guitar | rest down: Voice {MINUS}20 to {MINUS}26, Drums {MINUS}20 to {MINUS}26",
    ]


def test_a_preamp_is_told_from_its_planning_to_its_turning() -> None:
    stage = small_stage()

    stage.drop_preamp(stage.plan_preamp("voice", -60))
    stage.turn_preamp(stage.plan_preamp("voice", 60), though_rows_wait=True)

    assert said(stage, "ears", 5) == [
        "preamp turned | Voice | +6",
        f"asked | Voice | {MINUS}6 for the preamp",
        "preamp change planned | Voice | +6",
        f"preamp change given up | Voice | {MINUS}6",
        f"preamp change planned | Voice | {MINUS}6",
    ]


def test_measurements_are_told_with_their_figures() -> None:
    stage = small_stage()

    stage.read_margin("front", "voice", 90, open_mics=4)
    stage.make_stale("front", "wedge turned")
    stage.do(m.MeasureEarLevel("front", 953, EarMethod.AT_THE_EAR))

    assert said(stage, "front", 3) == [
        "level at the ear measured | 95.3 dB(A)",
        "feedback margins stale | wedge turned",
        "feedback margin read | Voice | 9 dB with 4 open",
    ]


def test_what_was_heard_is_told_as_it_was_said() -> None:
    stage = small_stage()

    for source, asked, heard in (
        ("guitar", 60, Heard.TOO_LITTLE),
        ("drums", -60, Heard.TOO_MUCH),
        ("voice", 30, Heard.RIGHT),
    ):
        decision = stage.done(stage.ask("front", source, asked))
        stage.do(SayHeard("front", "singer", decision, heard))

    assert [line for line in said(stage, "front", 20) if line.startswith("heard")] == [
        "heard | Voice | just right",
        "heard | Drums | still too much",
        "heard | Guitar | still too little",
    ]
