"""Distance: how a level falls with it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.distances import level_change
from monreq.domain.refusals import NoDistance, NotAFigure, NotLikeThis

DISTANCES = st.floats(0.01, 1000)


@given(DISTANCES, DISTANCES, DISTANCES)
def test_changes_with_distance_add(first: float, second: float, third: float) -> None:
    in_two_steps = level_change(first, second) + level_change(second, third)

    assert in_two_steps == pytest.approx(level_change(first, third), abs=1e-9)


@pytest.mark.parametrize(
    ("metres", "refusal"),
    [
        (0.0, NoDistance),
        (-1.0, NoDistance),
        (10_001.0, NoDistance),
        (math.nan, NotAFigure),
        (math.inf, NotAFigure),
    ],
)
def test_distance_that_is_none_is_refused(metres: float, refusal: type[NotLikeThis]) -> None:
    with pytest.raises(refusal):
        level_change(metres, 1.0)
    with pytest.raises(refusal):
        level_change(1.0, metres)
