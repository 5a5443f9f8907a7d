"""How a change of level is heard."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.loudness import Heard, heard_as, loudness_ratio
from monreq.domain.refusals import BeyondBelief, NotAFigure, NotLikeThis


@pytest.mark.parametrize(
    ("change", "heard"),
    [(0, Heard.HARDLY), (2.9, Heard.HARDLY), (4.9, Heard.JUST), (9.9, Heard.CLEARLY), (60, Heard.TWICE)],
)
def test_change_is_heard_by_its_size(change: float, heard: Heard) -> None:
    assert heard_as(change) is heard
    assert heard_as(-change) is heard


@given(st.floats(-60, 60), st.floats(-60, 60))
def test_ratios_of_loudness_multiply(first: float, second: float) -> None:
    assert loudness_ratio(first) * loudness_ratio(second) == pytest.approx(loudness_ratio(first + second))


@pytest.mark.parametrize(("change", "refusal"), [(math.nan, NotAFigure), (-121.0, BeyondBelief)])
def test_change_that_is_none_is_refused(change: float, refusal: type[NotLikeThis]) -> None:
    with pytest.raises(refusal):
        heard_as(change)
    with pytest.raises(refusal):
        loudness_ratio(change)
