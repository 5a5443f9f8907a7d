"""Whole evenings on advice alone: nothing that is suggested rings or hurts, whatever came before it."""

from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.domain.fold import fold
from monreq.domain.show import Show
from tests.support.guarded_bounds import line_up
from tests.support.guarded_evening import Evening

ASKING = ("ask", "ask", "ask", "in", "out", "pan")
ADVISED = ("take", "take", "take", "take", "undo")
CALLING = ("hurts", "squeal", "withdraw")
HANDS = ("typed", "correct", "start", "again", "anew", "outputs")
MEASURING = ("read", "read", "stale", "mics", "plan", "turn", "drop")
RUNNING = ("song", "gap", "back", "wait", "wait", "mark", "aside")
KINDS = (*ASKING, *ASKING, *ADVISED, *ADVISED, *CALLING, *HANDS, *MEASURING, *RUNNING)

SOUNDCHECK = ("ask", "ask", "in", "take", "take", "take", "undo", "start", "wait", "wait")

NUMBERS = st.integers(0, 999)
STEPS = st.lists(st.tuples(st.sampled_from(KINDS), NUMBERS, NUMBERS), min_size=5, max_size=80)
BEFORE_THE_MARK = st.lists(st.tuples(st.sampled_from(SOUNDCHECK), NUMBERS, NUMBERS), min_size=20, max_size=80)


@given(st.integers(0, 10_000), STEPS)
@settings(max_examples=60, deadline=None)
def test_no_evening_of_suggestions_goes_beyond_a_bound(seed: int, steps: list[tuple[str, int, int]]) -> None:
    evening = Evening(line_up(seed))

    for kind, one, other in steps:
        evening.step(kind, one, other)

    stage = evening.stage
    assert fold(Show(stage.show.id), stage.log) == stage.show


@given(st.integers(0, 10_000), BEFORE_THE_MARK)
@settings(max_examples=40, deadline=None)
def test_no_soundcheck_of_suggestions_goes_beyond_what_start_levels_allow(
    seed: int, steps: list[tuple[str, int, int]]
) -> None:
    evening = Evening(line_up(seed))

    for kind, one, other in steps:
        evening.step(kind, one, other)
        for mix, base in evening.base.items():
            began = evening.show.began_as_now(mix)
            assert began is not None
            assert began.levels.settings == base.levels.settings
