"""Which figures are taken to reckon with: the last that is taken, the first that is refused."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import plausible
from monreq.domain.refusals import NoOpenMics, NotAFigure, NotLikeThis

Check = Callable[[float], float]
RANGES = [
    (plausible.db, -120.0, 120.0),
    (plausible.sound_level_dba, 0.0, 194.0),
    (plausible.hours, 0.0, 168.0),
    (plausible.distance_m, 1e-9, 10_000.0),
]


@pytest.mark.parametrize(("check", "least", "most"), RANGES)
def test_figure_is_taken_up_to_both_ends(check: Check, least: float, most: float) -> None:
    assert [check(least), check(most)] == [least, most]
    for beyond in (least - 0.001, most + 0.001):
        with pytest.raises(NotLikeThis):
            check(beyond)


@pytest.mark.parametrize("check", [plausible.figure, *(check for check, _, _ in RANGES)])
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 10**400])
def test_figure_that_is_none_is_refused(check: Check, value: float) -> None:
    with pytest.raises(NotAFigure):
        check(value)


@given(st.floats() | st.integers())
def test_any_figure_is_taken_as_it_is_or_refused(value: float) -> None:
    for check, _, _ in RANGES:
        try:
            taken = check(value)
        except NotLikeThis:
            continue
        assert taken == value


def test_open_mics_are_counted_in_whole_numbers() -> None:
    assert [plausible.open_mics(number) for number in (1, 1000)] == [1, 1000]
    for number in (0, 1001, -3, 1.5, math.nan, math.inf):
        with pytest.raises(NoOpenMics):
            plausible.open_mics(number)  # type: ignore[arg-type] # what a form might let through
