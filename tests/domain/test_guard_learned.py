"""What is learned of a wedge, against a simulated loop whose true ceiling is known."""

import pytest

from tests.support.simulated_loop import Loop

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
