"""Who is there: awake, asleep, gone, from what pages say of themselves and how long they are silent."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.presence import (
    GONE_MS,
    LEFT_MS,
    ON_ROW_MS,
    SILENT_MS,
    Desk,
    Phones,
    PhoneState,
    Sign,
    snapshot,
)

NOW = 1_700_000_000_000


def sign(
    page: str = "one", *, awake: bool = True, since: int = 0, heard: int = 0, left: int | None = None
) -> Sign:
    """A phone of the front mix; times are milliseconds before now."""
    return Sign(page, "front", NOW - since, NOW - heard, None if left is None else NOW - left, is_awake=awake)


@pytest.mark.parametrize(
    ("one", "state", "since_ms"),
    [
        (sign(), PhoneState.AWAKE, 0),
        (sign(heard=SILENT_MS), PhoneState.AWAKE, 0),
        (sign(heard=SILENT_MS + 1), PhoneState.ASLEEP, NOW - SILENT_MS - 1),
        (sign(awake=False, since=90_000, heard=1000), PhoneState.ASLEEP, NOW - 90_000),
        (sign(awake=False, since=GONE_MS + 1, heard=1000), PhoneState.ASLEEP, NOW - GONE_MS - 1),
        (sign(heard=GONE_MS), PhoneState.ASLEEP, NOW - GONE_MS),
        (sign(heard=GONE_MS + 1), PhoneState.GONE, NOW - GONE_MS - 1),
        (sign(left=LEFT_MS), PhoneState.GONE, NOW - LEFT_MS),
        (sign(left=LEFT_MS - 1), PhoneState.AWAKE, 0),
    ],
)
def test_phone_is_as_its_page_said_until_it_is_silent(one: Sign, state: PhoneState, since_ms: int) -> None:
    assert snapshot([one], NOW).of("front") == Phones(state, since_ms)


def test_mix_that_nobody_opened_has_no_phone_yet() -> None:
    assert snapshot([sign()], NOW).of("ears") == Phones(PhoneState.NONE)


def test_best_of_several_phones_counts() -> None:
    asleep, later = sign("a", awake=False, since=9000), sign("b", awake=False, since=5000)
    gone = sign("c", left=4000)

    assert snapshot([gone, asleep, later], NOW).of("front") == Phones(PhoneState.ASLEEP, NOW - 5000)
    assert snapshot([gone, asleep, sign("d")], NOW).of("front").state is PhoneState.AWAKE


def test_desk_is_on_the_row_that_its_person_touched_last_for_a_while() -> None:
    side = Sign("s", None, NOW, NOW, None, "Stage side", "row-front-voice-level", NOW - ON_ROW_MS)
    house = Sign("h", None, NOW, NOW, None, "House", "row-front-kick-level", NOW - ON_ROW_MS - 1)

    assert snapshot([side, house], NOW).desks == (
        Desk("h", "House", ""),
        Desk("s", "Stage side", "row-front-voice-level"),
    )


def test_desk_that_closed_or_is_silent_is_not_there() -> None:
    closed = Sign("c", None, NOW, NOW, NOW - LEFT_MS)
    silent = Sign("s", None, NOW, NOW - SILENT_MS - 1)

    assert snapshot([closed, silent], NOW).desks == ()


@given(
    st.permutations(
        [sign("a"), sign("b", left=9000), sign("c", awake=False, since=7000), sign("d", heard=70_000)]
    )
)
def test_snapshot_does_not_depend_on_the_order_of_signs(signs: list[Sign]) -> None:
    assert snapshot(signs, NOW) == snapshot(sorted(signs, key=lambda one: one.page), NOW)


@given(st.integers(0, 10_000_000), st.integers(0, 10_000_000))
def test_silent_phone_never_wakes_by_itself(first: int, more: int) -> None:
    order = list(PhoneState)
    states = [snapshot([sign()], NOW + passed).of("front").state for passed in (first, first + more)]

    assert order.index(states[0]) <= order.index(states[1])
