"""The balance of a mix: how much louder it became."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.balance import drift

MIXES = st.dictionaries(st.sampled_from("abcdefgh"), st.floats(-90, 10), min_size=1)


def test_drift_of_a_mix_that_stayed_is_nothing() -> None:
    assert drift({"voice": -9.0, "kick": -12.0}, {"kick": -12.0, "voice": -9.0}) == 0.0


def test_drift_of_everything_up_by_three_is_three() -> None:
    assert drift({"a": -9.0, "b": -12.0}, {"a": -6.0, "b": -9.0}) == pytest.approx(3.0)


def test_drift_by_one_more_of_equal_level_is_three_db() -> None:
    assert drift({"a": -9.0}, {"a": -9.0, "b": -9.0}) == pytest.approx(3.0103, abs=1e-4)


def test_drift_of_one_among_equals_up_by_six_is_less_than_six() -> None:
    before = dict.fromkeys("abcd", 0.0)

    louder = drift(before, {**before, "a": 6.0})

    assert louder == pytest.approx(10 * math.log10((3 + 10**0.6) / 4))


def test_drift_between_silences_is_nothing() -> None:
    assert drift({}, {}) == 0.0


def test_drift_from_silence_and_into_it_is_without_end() -> None:
    assert drift({}, {"a": -10.0}) == math.inf
    assert drift({"a": -10.0}, {}) == -math.inf


@given(MIXES, MIXES)
def test_drift_back_is_the_opposite(before: dict[str, float], after: dict[str, float]) -> None:
    assert drift(before, after) == -drift(after, before)


@given(MIXES, MIXES, MIXES)
def test_drifts_one_after_another_add(
    first: dict[str, float], second: dict[str, float], third: dict[str, float]
) -> None:
    in_two_steps = drift(first, second) + drift(second, third)

    assert in_two_steps == pytest.approx(drift(first, third), abs=1e-9)
