"""Pan laws against their formulas and against panning by vectors.

The tangent law has no base of 90 degrees on each side; the law of sines has. On in-ears none of the angles means anything.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.panning import (
    Gains,
    compromise,
    constant_power,
    from_stage,
    law_of_sines,
    law_of_tangents,
    linear,
)
from tests.support.fact_table import FactTable, close
from tests.support.facts import Fact

pytestmark = pytest.mark.external

TABLE = FactTable("05_panning")
LAWS = {"constant_power": constant_power, "linear": linear, "compromise": compromise}
METRES = st.integers(-2000, 2000).map(lambda centimetres: centimetres / 100)
PLACES = st.tuples(METRES, METRES)


def law_in(item: str) -> str:
    (name,) = set(item.split(".")) & LAWS.keys()
    return name


def side(fact: Fact, gains: Gains) -> float:
    return gains[["left", "right"].index(fact.inputs["side"])]


def angles(fact: Fact) -> tuple[float, float]:
    return fact.inputs["theta_deg_left"], fact.inputs["theta0_deg"]


@pytest.mark.parametrize(
    "fact",
    TABLE.read(
        "pan.centre.constant_power.exact",
        "pan.centre.constant_power.printed",
        "pan.centre.linear.exact",
        "pan.centre.linear.printed",
        "pan.centre.compromise.exact",
        "pan.centre.compromise.printed",
    ),
    ids=str,
)
def test_level_in_the_middle(fact: Fact) -> None:
    """Sources: J. O. Smith, Spectral Audio Signal Processing; for -4.5 dB probsee.com/p/Panning_law."""
    left, right = LAWS[law_in(fact.item)](fact.inputs["pan"])

    assert [20 * math.log10(left), 20 * math.log10(right)] == [close(fact)] * 2


@pytest.mark.parametrize(
    "fact",
    TABLE.read("pan.gains.constant_power", "pan.gains.linear", "pan.gains.compromise"),
    ids=str,
)
def test_gains_of_a_pan(fact: Fact) -> None:
    """Source: the formulas in the table's rows."""
    assert side(fact, LAWS[law_in(fact.item)](fact.inputs["pan"])) == close(fact)


@pytest.mark.parametrize("pan", [-1.0, -0.7, -0.2, 0.0, 0.1, 0.5, 1.0])
def test_what_each_law_keeps(pan: float) -> None:
    """Sources: sin^2 + cos^2 = 1; for linear the definition."""
    (power,), (sums,) = TABLE.read("pan.invariant.constant_power"), TABLE.read("pan.invariant.linear")

    assert math.hypot(*constant_power(pan)) ** 2 == close(power)
    assert sum(linear(pan)) == close(sums)


@pytest.mark.parametrize("fact", TABLE.read("pan.mono_sum_change.constant_power"), ids=str)
def test_sum_of_left_and_right_in_the_middle(fact: Fact) -> None:
    """Source: L + R is the root of 2 in the middle, and 1 at a side."""
    assert 20 * math.log10(sum(constant_power(0)) / sum(constant_power(-1))) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("pan.law_of_sines.gains"), ids=str)
def test_gains_by_the_law_of_sines(fact: Fact) -> None:
    """Source: Bauer's law of sines, quoted in Pulkki, JAES 1997, sect. 1.1."""
    assert side(fact, law_of_sines(*angles(fact))) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("pan.tangent_law.gains", "pan.vbap2d.gains"), ids=str)
def test_gains_by_the_tangent_law_and_by_vectors(fact: Fact) -> None:
    """Sources: the tangent law, dsprelated.com/showarticle/1230.php; Pulkki, JAES 1997, eq. 9."""
    assert side(fact, law_of_tangents(*angles(fact))) == close(fact)


@pytest.mark.parametrize("fact", TABLE.read("pan.law_of_sines.icld", "pan.tangent_law.icld"), ids=str)
def test_difference_of_levels_by_both_laws(fact: Fact) -> None:
    """Source: 20 lg(L / R) of the same two laws."""
    law = law_of_sines if "sines" in fact.item else law_of_tangents

    left, right = law(*angles(fact))

    assert 20 * math.log10(left / right) == close(fact)


@given(st.floats(-44, 44))
def test_tangent_law_agrees_with_vectors_solved_by_numpy(left_deg: float) -> None:
    """Source: Pulkki, JAES 1997, eq. 9: the gains solve L g = p; numpy.linalg.solve."""
    base = math.radians(45)
    speakers = np.array([[math.cos(base), math.cos(base)], [math.sin(base), -math.sin(base)]])
    image = np.array([math.cos(math.radians(left_deg)), math.sin(math.radians(left_deg))])

    gains = np.linalg.solve(speakers, image)
    theirs = gains / np.linalg.norm(gains)

    assert law_of_tangents(left_deg, 45) == pytest.approx(tuple(theirs), abs=1e-9)


@given(PLACES, st.floats(-720, 720), PLACES)
def test_pan_from_the_stage_agrees_with_a_turned_plan(
    listener: tuple[float, float], facing_deg: float, source: tuple[float, float]
) -> None:
    """Source: numpy: the plan turned by a matrix until the musician looks up the page, their right to the right."""
    turn = math.radians(180 + facing_deg)  # clockwise facing, turned back counter-clockwise
    matrix = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    offset = np.subtract(source, listener)
    away = float(np.linalg.norm(offset))

    theirs = float((matrix @ offset)[0]) / away if away else 0.0

    assert from_stage(listener, facing_deg, source) == pytest.approx(theirs, abs=1e-9)


def test_no_row_of_the_table_is_left_unread() -> None:
    """Source: the table itself."""
    assert TABLE.unread() == set()
