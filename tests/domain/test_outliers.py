"""How unusual a figure is among others."""

import math
from collections.abc import Sequence
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.outliers import modified_z_score

FIGURES = st.integers(-600, 100)
OTHERS = st.lists(FIGURES, min_size=1, max_size=12)


@pytest.mark.parametrize(
    ("value", "others", "score"),
    [
        (14, [0, 1, -1, 2, -2], 0.6745 * 14),
        (-14, [0, 2, -2, 4, -4], -0.6745 * 7),
        (3, [3, 3, 3], 0.0),
        (4, [3, 3, 3], math.inf),
        (2, [3, 3, 3], -math.inf),
    ],
)
def test_score_is_counted_in_robust_deviations(value: float, others: Sequence[float], score: float) -> None:
    assert modified_z_score(value, others) == pytest.approx(score)


def test_figures_that_are_equal_are_taken_to_vary_by_the_least() -> None:
    assert modified_z_score(20, [0, 0, 0], least_mad=10) == pytest.approx(1.349)


@given(FIGURES, OTHERS, st.integers(-300, 300))
def test_scale_may_begin_anywhere(value: int, others: list[int], shift: int) -> None:
    shifted = modified_z_score(value + shift, [one + shift for one in others], 10)

    assert shifted == pytest.approx(modified_z_score(value, others, 10))


@given(OTHERS)
def test_what_stands_in_the_middle_is_not_unusual_at_all(others: list[int]) -> None:
    assert modified_z_score(median(others), others, 10) == 0


@given(st.lists(FIGURES, min_size=3, max_size=11), st.integers(1000, 100_000))
def test_one_wild_figure_among_the_others_hides_no_outlier(others: list[int], wild: int) -> None:
    """The score of a far figure stays bounded from below, however wild one of the others is."""
    far = 5000
    least = [modified_z_score(far, [*others, size], 10) for size in (wild, 100 * wild)]

    assert least[0] == pytest.approx(least[1])
