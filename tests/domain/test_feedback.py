"""Feedback margins: how they are spent and combined, what is left for a raise, and the planning gains."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.feedback import (
    MarginCaution,
    caution,
    combined_margin,
    margin_after,
    needed_gain,
    open_mic_penalty,
    potential_gain,
    usable_raise,
)
from monreq.domain.refusals import (
    BeyondBelief,
    NoDistance,
    NoOpenMics,
    NotAFigure,
    NothingMeasured,
    NotLikeThis,
)

MARGINS = st.floats(-20, 40)
RAISES = st.floats(0, 20)
MICS = st.integers(1, 64)
NO_FIGURES = [(math.nan, NotAFigure), (math.inf, NotAFigure), (-120.1, BeyondBelief)]
PLACES = {
    "talker_to_mic_m": 0.05,
    "talker_to_listener_m": 1.0,
    "mic_to_speaker_m": 1.5,
    "speaker_to_listener_m": 1.5,
}


def potential(**other: float) -> float:
    places = {**PLACES, **other}
    return potential_gain(
        talker_to_mic_m=places["talker_to_mic_m"],
        talker_to_listener_m=places["talker_to_listener_m"],
        mic_to_speaker_m=places["mic_to_speaker_m"],
        speaker_to_listener_m=places["speaker_to_listener_m"],
        critical_distance_m=places.get("critical_distance_m"),
    )


def test_margin_is_spent_by_raises_of_send_and_output() -> None:
    assert margin_after(9.0, 3.0, 2.0) == 4.0


def test_margin_is_spent_by_twice_as_many_open_mics() -> None:
    assert margin_after(9.0, 0.0, 0.0, 2, 4) == pytest.approx(9 - 3.0103, abs=1e-4)


def test_margin_comes_back_when_a_raise_is_taken_back() -> None:
    assert margin_after(margin_after(9.0, 3.0), -3.0) == 9.0


@given(MARGINS, RAISES, RAISES, MICS, MICS)
def test_margin_never_rises_by_a_raise(
    margin: float, send: float, output: float, before: int, further: int
) -> None:
    after = margin_after(margin, send, output, before, before + further - 1)

    assert after <= margin


@given(MARGINS, RAISES, RAISES)
def test_margin_falls_with_every_further_raise(margin: float, first: float, second: float) -> None:
    assert margin_after(margin, first + second) <= margin_after(margin, first)


@given(st.lists(MARGINS, min_size=1, max_size=8))
def test_combined_margin_is_below_the_least(margins: list[float]) -> None:
    assert combined_margin(margins) <= min(margins)
    assert combined_margin(margins) == combined_margin(margins[::-1])


def test_combined_margin_of_one_is_its_own() -> None:
    assert combined_margin([7.5]) == 7.5


def test_combined_margin_of_none_is_refused() -> None:
    with pytest.raises(NothingMeasured):
        combined_margin([])


def test_usable_raise_stops_at_the_reserve() -> None:
    assert [usable_raise(margin) for margin in (10.0, 4.0, 3.0, 1.0, -2.0)] == [7.0, 1.0, 0.0, 0.0, 0.0]
    assert usable_raise(10.0, reserve_db=6.0) == 4.0


@given(MARGINS, RAISES)
def test_usable_raise_leaves_the_reserve(margin: float, reserve: float) -> None:
    move = usable_raise(margin, reserve)

    assert move == 0 or margin_after(margin, move) == pytest.approx(reserve, abs=1e-9)


@pytest.mark.parametrize(
    ("margin", "is_stale", "told"),
    [
        (None, False, MarginCaution.NOT_MEASURED),
        (None, True, MarginCaution.NOT_MEASURED),
        (12.0, True, MarginCaution.STALE),
        (3.0, False, MarginCaution.AT_RESERVE),
        (-1.0, False, MarginCaution.AT_RESERVE),
        (3.1, False, MarginCaution.LOW),
        (5.9, False, MarginCaution.LOW),
        (6.0, False, None),
    ],
)
def test_caution_about_a_margin(margin: float | None, is_stale: bool, told: MarginCaution | None) -> None:  # noqa: FBT001 - a row of the table
    assert caution(margin, is_stale=is_stale) is told


@pytest.mark.parametrize(("figure", "refusal"), NO_FIGURES)
def test_margin_of_what_is_no_figure_is_refused(figure: float, refusal: type[NotLikeThis]) -> None:
    for arguments in ((figure, 0.0, 0.0), (6.0, figure, 0.0), (6.0, 0.0, figure)):
        with pytest.raises(refusal):
            margin_after(*arguments)
    with pytest.raises(refusal):
        combined_margin([6.0, figure])
    with pytest.raises(refusal):
        usable_raise(figure)


@pytest.mark.parametrize("number", [0, -1, 1001, 10**400])
def test_number_of_open_mics_that_cannot_be_is_refused(number: int) -> None:
    with pytest.raises(NoOpenMics):
        open_mic_penalty(number)
    with pytest.raises(NoOpenMics):
        margin_after(6.0, 0.0, 0.0, 1, number)


def test_potential_gain_grows_by_six_db_with_the_mouth_at_half_the_distance() -> None:
    assert potential(talker_to_mic_m=0.025) - potential() == pytest.approx(6.0206, abs=1e-4)


def test_potential_gain_shrinks_with_the_wedge_nearer_to_the_mic() -> None:
    assert potential(mic_to_speaker_m=0.75) < potential()


def test_potential_gain_in_a_very_large_room_is_that_of_the_open() -> None:
    assert potential(critical_distance_m=9999) == pytest.approx(potential(), abs=1e-3)


def test_needed_gain_of_a_talker_who_is_near_enough_is_nothing() -> None:
    assert needed_gain(talker_to_listener_m=2.0, as_near_as_m=2.0) == 0.0


@pytest.mark.parametrize("metres", [0.0, -1.0, 10_001.0])
def test_planning_with_a_distance_that_cannot_be_is_refused(metres: float) -> None:
    for length in (*PLACES, "critical_distance_m"):
        with pytest.raises(NoDistance):
            potential(**{length: metres})
    with pytest.raises(NoDistance):
        needed_gain(talker_to_listener_m=metres, as_near_as_m=1.0)
