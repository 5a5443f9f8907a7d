"""The inverse-square law against published tables.

A trap: the table's own row for 640 ft prints 78 dB, where the formula gives 79.8; it was left out.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.distances import level_change
from tests.support.fact_table import FactTable, close
from tests.support.facts import Fact

pytestmark = pytest.mark.external

TABLE = FactTable("03_distance")
DISTANCES = st.floats(0.01, 1000)


@pytest.mark.parametrize(
    "fact", TABLE.read("distance.level.exact", "distance.level.printed", "distance.level.table"), ids=str
)
def test_level_at_another_distance(fact: Fact) -> None:
    """Source: engineeringtoolbox.com/inverse-square-law-d_890.html, printed rounded, and its formula unrounded."""
    there = fact.inputs["level_db"] + level_change(fact.inputs["r1"], fact.inputs["r2"])

    assert there == close(fact)


@pytest.mark.parametrize(
    "fact", TABLE.read("distance.change.exact", "distance.change.printed", "distance.doubling"), ids=str
)
def test_change_with_distance(fact: Fact) -> None:
    """Source: a trade association's course, infocomm.org, printed rounded, and the law unrounded."""
    assert level_change(fact.inputs["r1"], fact.inputs["r2"]) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("distance.mic_closer_gain"), ids=str)
def test_gain_by_going_closer_to_the_microphone(fact: Fact) -> None:
    """Source: 20 lg(old / new)."""
    assert level_change(fact.inputs["old"], fact.inputs["new"]) == close(fact)


@given(DISTANCES, DISTANCES)
def test_change_with_distance_agrees_with_numpy(near: float, far: float) -> None:
    """Source: numpy.log10 of the ratio of intensities, which fall with the square of the distance."""
    theirs = float(10 * np.log10((near**2) / (far**2)))

    assert level_change(near, far) == pytest.approx(theirs, abs=1e-9)


def test_no_row_of_the_table_is_left_unread() -> None:
    """Source: the table itself."""
    assert TABLE.unread() == set()
