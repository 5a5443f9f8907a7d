"""Exposure against other libraries, which reckon the same days."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.exposure import daily_exposure_level, dose_percent
from tests.support.toolbox import dbdiv, dbsum

pytestmark = pytest.mark.external
DAYS = st.lists(st.tuples(st.floats(40, 130), st.floats(0.01, 8)), min_size=1, max_size=12)


@given(DAYS)
def test_daily_exposure_level_agrees_with_another_library(day: list[tuple[float, float]]) -> None:
    """Source: acoustic-toolbox 0.2.2, dbsum over levels weighted by time, dbdiv by eight hours."""
    energy = dbsum(np.array([level + 10 * math.log10(hours) for level, hours in day]))

    assert daily_exposure_level(day) == pytest.approx(dbdiv(energy, 8.0), abs=1e-9)


@given(DAYS)
def test_dose_agrees_with_numpy(day: list[tuple[float, float]]) -> None:
    """Source: numpy, D = 100 sum(C / T) of 29 CFR 1910.95 App. A over whole columns."""
    levels, hours = np.array(day).T

    theirs = 100 * np.sum(hours / (8 / np.exp2((levels - 90) / 5)))

    assert dose_percent(day, "osha") == pytest.approx(float(theirs), rel=1e-9)
