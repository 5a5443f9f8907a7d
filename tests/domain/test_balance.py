"""The balance of a mix: how much louder it became, a source's share, and new balances at the same loudness."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.balance import (
    TwoMoves,
    as_two_moves,
    drift,
    most_by_others_only,
    others_only,
    rest_down,
    same_loudness,
    share,
)
from monreq.domain.decibels import power_sum
from monreq.domain.refusals import (
    AloneTooLoud,
    BeyondBelief,
    NoChange,
    NotAFigure,
    NothingElseInMix,
    NothingInMix,
    NotLikeThis,
    RestOnlyDown,
    SourceNotInMix,
)

NO_FIGURES = [(math.nan, NotAFigure), (math.inf, NotAFigure), (-math.inf, NotAFigure), (120.1, BeyondBelief)]
BAND = {"kick": -11.0, "voice": -6.0, "guitar": -10.0}
CHANGES = st.floats(-12, 12)
SOURCES = st.sampled_from("abcdefgh")
SEVERAL = st.dictionaries(SOURCES, st.floats(-90, 10), min_size=2)
TRIMS = st.dictionaries(SOURCES, st.floats(-20, 20))
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


def test_drift_counts_a_trim_with_its_level() -> None:
    assert drift({"a": -9.0}, {"a": -9.0, "b": -12.0}, {"b": 3.0}) == pytest.approx(3.0103, abs=1e-4)


@pytest.mark.parametrize(("figure", "refusal"), NO_FIGURES)
def test_drift_of_what_is_no_level_is_refused(figure: float, refusal: type[NotLikeThis]) -> None:
    with pytest.raises(refusal):
        drift(BAND, {**BAND, "kick": figure})


def test_share_of_a_source_that_equals_the_rest_is_nothing() -> None:
    assert share({"voice": -3.0, "kick": -6.0103, "bass": -6.0103}, "voice") == pytest.approx(0.0, abs=1e-4)


def test_share_of_a_source_under_the_rest_is_negative() -> None:
    assert share({"voice": -10.0, "kick": -5.0}, "voice") == -5.0


def test_share_counts_a_trim_with_its_level() -> None:
    assert share({"voice": -10.0, "kick": -5.0}, "voice", {"voice": 7.0, "gone": 90.0}) == 2.0


def test_share_of_a_source_that_is_off_is_refused() -> None:
    with pytest.raises(SourceNotInMix):
        share(BAND, "flute")


def test_share_of_the_only_source_is_refused() -> None:
    with pytest.raises(NothingElseInMix):
        share({"voice": -10.0}, "voice")


def test_same_loudness_is_two_moves_of_the_hand() -> None:
    moves = as_two_moves(BAND, "kick", 6.0)

    assert moves == pytest.approx(TwoMoves(6.0, -1.9), abs=0.01)
    assert BAND["kick"] + moves.send_change_db == -5.0


@given(SEVERAL, CHANGES, TRIMS)
def test_two_moves_come_to_the_same_loudness(
    levels: dict[str, float], change: float, trims: dict[str, float]
) -> None:
    source = min(levels)

    moves = as_two_moves(levels, source, change, trims)

    by_hand = {one: level + moves.output_change_db for one, level in levels.items()}
    by_hand[source] += moves.send_change_db
    assert same_loudness(levels, {source: change}, trims) == pytest.approx(by_hand, abs=1e-9)


@given(MIXES, st.dictionaries(SOURCES, CHANGES), TRIMS)
def test_same_loudness_keeps_the_power(
    levels: dict[str, float], wishes: dict[str, float], trims: dict[str, float]
) -> None:
    changes = {source: change for source, change in wishes.items() if source in levels}

    after = same_loudness(levels, changes, trims)

    assert drift(levels, after, trims) == pytest.approx(0.0, abs=1e-9)


@given(MIXES, st.dictionaries(SOURCES, CHANGES))
def test_same_loudness_keeps_the_new_balance(levels: dict[str, float], wishes: dict[str, float]) -> None:
    changes = {source: change for source, change in wishes.items() if source in levels}

    after = same_loudness(levels, changes)

    asked = {source: level + changes.get(source, 0.0) for source, level in levels.items()}
    first = min(levels)
    for source in levels:
        assert after[source] - after[first] == pytest.approx(asked[source] - asked[first], abs=1e-9)


def test_same_loudness_without_a_change_leaves_everything() -> None:
    assert same_loudness(BAND, {}) == BAND


def test_same_loudness_of_a_silent_mix_is_refused() -> None:
    with pytest.raises(NothingInMix):
        same_loudness({}, {})


def test_same_loudness_for_a_source_that_is_off_is_refused() -> None:
    with pytest.raises(SourceNotInMix):
        same_loudness(BAND, {"flute": 3.0})


@pytest.mark.parametrize(("figure", "refusal"), NO_FIGURES)
def test_same_loudness_of_what_is_no_figure_is_refused(figure: float, refusal: type[NotLikeThis]) -> None:
    for levels, changes, trims in (
        ({**BAND, "voice": figure}, {"kick": 3.0}, {}),
        (BAND, {"kick": figure}, {}),
        (BAND, {"kick": 3.0}, {"voice": figure}),
    ):
        with pytest.raises(refusal):
            same_loudness(levels, changes, trims)


@given(SEVERAL, CHANGES, TRIMS)
def test_others_only_keeps_the_power_or_says_why_not(
    levels: dict[str, float], change: float, trims: dict[str, float]
) -> None:
    source = min(levels)
    room = most_by_others_only(levels, source, trims)
    if change >= room:
        with pytest.raises(AloneTooLoud):
            others_only(levels, source, change, trims)
        return

    after = others_only(levels, source, change, trims)

    assert after[source] == levels[source] + change
    assert drift(levels, after, trims) == pytest.approx(0.0, abs=1e-9)
    moves = [after[one] - levels[one] for one in levels if one != source]
    assert max(moves) - min(moves) == pytest.approx(0.0, abs=1e-9)


@given(SEVERAL, st.floats(0.1, 12))
def test_others_only_makes_room_for_a_raise_downwards(levels: dict[str, float], change: float) -> None:
    source = min(levels, key=levels.__getitem__)
    try:
        after = others_only(levels, source, change)
    except AloneTooLoud:
        return

    assert all(after[one] <= levels[one] for one in levels if one != source)


def test_others_only_says_how_far_a_source_that_is_too_loud_may_rise() -> None:
    with pytest.raises(AloneTooLoud) as refused:
        others_only(BAND, "voice", 6.0)

    assert refused.value.sentence == (
        "This source alone would be louder than the whole mix was. With only the others turned down "
        "it can rise by at most 2.3 dB: turn the output down instead."
    )
    assert others_only(BAND, "voice", 2.3)["voice"] == pytest.approx(-3.7)


def test_others_only_in_a_mix_of_one_is_refused() -> None:
    with pytest.raises(NothingElseInMix):
        others_only({"voice": -6.0}, "voice", -3.0)


@pytest.mark.parametrize(("figure", "refusal"), NO_FIGURES)
def test_others_only_by_what_is_no_change_is_refused(figure: float, refusal: type[NotLikeThis]) -> None:
    with pytest.raises(refusal):
        others_only(BAND, "kick", figure)


def test_rest_down_leaves_the_asked_source_alone() -> None:
    assert rest_down(BAND, "voice", 3.0) == {"kick": -14.0, "voice": -6.0, "guitar": -13.0}


@given(SEVERAL, st.floats(0.1, 12))
def test_rest_down_never_makes_a_mix_louder(levels: dict[str, float], amount: float) -> None:
    after = rest_down(levels, min(levels), amount)

    assert drift(levels, after) <= 0
    assert share(after, min(levels)) == pytest.approx(share(levels, min(levels)) + amount, abs=1e-9)


@pytest.mark.parametrize(
    ("source", "amount", "refusal"),
    [
        ("flute", 3.0, SourceNotInMix),
        ("kick", 0.0, NoChange),
        ("kick", -3.0, RestOnlyDown),
        ("kick", math.nan, NotAFigure),
        ("kick", 121.0, BeyondBelief),
    ],
)
def test_rest_down_of_what_makes_no_sense_is_refused(
    source: str, amount: float, refusal: type[NotLikeThis]
) -> None:
    with pytest.raises(refusal):
        rest_down(BAND, source, amount)


@given(st.permutations(sorted(BAND)))
def test_adding_up_a_mix_is_free_of_order(order: list[str]) -> None:
    turned = {source: BAND[source] for source in order}

    assert power_sum(turned.values()) == power_sum(BAND.values())
    assert share(turned, "voice") == share(BAND, "voice")
