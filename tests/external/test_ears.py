"""What each ear gets, against the definition of constant power and sums of power by another library."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.ears import ear_powers, louder_ear_db
from monreq.domain.levels import Levels, Position
from monreq.domain.setup import Setting, Source, SourceKind
from tests.support.toolbox import dbsum

pytestmark = pytest.mark.external
SENDS = st.lists(st.tuples(st.integers(-900, 100), st.integers(-100, 100)), min_size=1, max_size=12)


def mix(sends: list[tuple[int, int]]) -> tuple[dict[str, Source], Levels]:
    named = {f"s{place}": Setting(level, pan) for place, (level, pan) in enumerate(sends)}
    sources = {one: Source(one, one, SourceKind.DIRECT) for one in named}
    return sources, Levels(Position(Setting(0)), {one: Position(setting) for one, setting in named.items()})


@given(SENDS)
def test_both_ears_together_get_the_power_of_the_sends(sends: list[tuple[int, int]]) -> None:
    """Source: acoustic-toolbox 0.2.2, dbsum; constant power splits each source's power, twice that of one ear's middle."""
    sources, levels = mix(sends)

    left, right = ear_powers(sources, levels, {})

    together = 10 * math.log10((left + right) / 2)
    assert together == pytest.approx(float(dbsum(np.array([level / 10 for level, _ in sends]))), abs=1e-9)


@given(SENDS)
def test_no_ear_is_told_less_by_pans_than_its_own_power(sends: list[tuple[int, int]]) -> None:
    """Source: J. O. Smith, Spectral Audio Signal Processing: constant power, cos and sin of (pan + 1) pi / 4."""
    sources, levels = mix(sends)
    theta = [(pan / 100 + 1) * math.pi / 4 for _, pan in sends]
    powers = [2 * 10 ** (level / 100) for level, _ in sends]
    of_ears = [
        sum(power * turn(angle) ** 2 for power, angle in zip(powers, theta, strict=True))
        for turn in (math.cos, math.sin)
    ]

    told = louder_ear_db(sources, levels, {})

    assert told is not None
    assert all(told >= 10 * math.log10(ear) - 1e-9 for ear in of_ears if ear > 0)
    assert told == pytest.approx(10 * math.log10(max(of_ears)), abs=1e-9)
