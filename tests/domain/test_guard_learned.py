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


def test_what_is_suggested_on_what_stood_a_song_comes_no_more_than_a_decibel_above_the_ceiling() -> None:
    """What stood is below the ceiling, and one trip goes a decibel above it: there lies all that it can be wrong by."""
    raised = known = 0
    most_over_db = 0.0
    for seed in EVENINGS:
        loop = Loop(seed)
        loop.evening()
        known += bool(loop.held_is_true())
        raised += loop.counts["raised, stood_a_song"]
        most_over_db = max(most_over_db, loop.most_over_db.get("stood_a_song", 0.0))

    assert known > len(EVENINGS) // 2
    assert raised > 0
    assert most_over_db < 1.0
