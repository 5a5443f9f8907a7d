"""What is learned of a wedge, against a simulated loop whose true ceiling is known."""

import pytest

from monreq.domain import song_commands as so
from monreq.domain.requests import Call
from tests.support.simulated_loop import Loop
from tests.support.stage import small_stage

EVENINGS = range(25)


@pytest.mark.parametrize("seed", EVENINGS)
def test_what_stood_and_what_squealed_hold_the_true_ceiling_between_them(seed: int) -> None:
    loop = Loop(seed)

    loop.evening()

    assert all(loop.held_is_true())
    assert all(loop.squealed_is_true())


def test_what_is_suggested_on_what_stood_a_song_never_rings() -> None:
    raised = known = rang = 0
    for seed in EVENINGS:
        loop = Loop(seed)
        loop.evening()
        known += bool(loop.held_is_true())
        raised += loop.counts["raised, stood_a_song"]
        rang += loop.counts["rang, stood_a_song"]

    assert known > len(EVENINGS) // 2
    assert raised > 0
    assert rang == 0


def test_in_ears_and_a_wedge_that_is_off_teach_nothing_while_a_song_runs() -> None:
    stage = small_stage()
    stage.wedge("side", "drummer")
    stage.mark()
    stage.correct("side", None, is_on=False)
    stage.do(so.BeginSong())
    for mix in ("ears", "side", "front"):
        stage.correct(mix, "voice", -210)
    stage.call("side", Call.SQUEAL)
    stage.wait(180)

    stage.do(so.BeginGap())

    assert {mix for mix, held in stage.show.past.held.items() if held} == {"front"}
