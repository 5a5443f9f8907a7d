"""Matching: by identity, by name, by likeness; each thing once, and nothing lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.carry_matching import (
    How,
    Match,
    Named,
    comparable,
    likeness_percent,
    match,
    named_mixes,
    named_musicians,
)
from monreq.domain.setup import Mix, Musician, Output

NAMES = st.sampled_from(
    ["Kick", "kick ", "Bass", "Bass drum", "Lead vox", "Lead voice", "Keys", "Tom 1", "Tom 2"]
)
THINGS = st.lists(
    st.builds(Named, st.text("abcd", min_size=1, max_size=2), NAMES), max_size=9, unique_by=lambda one: one.id
)


def names(*names: str) -> list[Named]:
    return [Named(f"{name[:3].lower()}{place}", name) for place, name in enumerate(names)]


def test_identity_goes_before_names() -> None:
    known, here = [Named("a", "Kick"), Named("b", "Snare")], [Named("b", "Kick"), Named("a", "Snare")]

    assert match(known, here).matches == (Match("a", "a", How.SAME_ID), Match("b", "b", How.SAME_ID))


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Kick", " kick "),
        ("\uff22\uff41ss", "bass"),
        ("Straße", "STRASSE"),
        ("Lead  voice", "lead voice"),
        ("\ufb01ddle", "Fiddle"),
    ],
)
def test_names_are_the_same_whatever_their_case_width_and_spaces(one: str, other: str) -> None:
    matching = match([Named("a", one)], [Named("b", other)])

    assert matching.matches == (Match("a", "b", How.SAME_NAME),)


def test_likely_names_are_proposed_and_not_sure() -> None:
    matching = match([Named("a", "Lead voice")], [Named("b", "Lead vox"), Named("c", "Kick")])

    assert matching.unsure == (Match("a", "b", How.LIKELY),)
    assert not matching.unsure[0].is_sure
    assert matching.new == ("c",)


def test_unlike_names_are_missing_on_one_side_and_new_on_the_other() -> None:
    matching = match([Named("a", "Trumpet")], [Named("b", "Kick")])

    assert matching.matches == (Match("a", None, How.MISSING),)
    assert matching.new == ("b",)


def test_a_name_that_stands_twice_is_asked_about() -> None:
    matching = match([Named("a", "Guitar"), Named("b", "Guitar")], [Named("c", "Guitar")])

    assert matching.matches == (Match("a", "c", How.LIKELY), Match("b", None, How.MISSING))


def test_the_most_alike_are_proposed_for_one_another() -> None:
    matching = match([Named("a", "Guitar"), Named("b", "Guitar voice")], [Named("c", "Guitar voic")])

    assert [one.here for one in matching.matches] == [None, "c"]


def test_a_chair_only_proposes_who_sits_there() -> None:
    known = named_musicians([Musician("a", "Ben", chair="Bass")])
    here = named_musicians([Musician("b", "Dora", chair="Bass")])

    assert match(known, here).matches == (Match("a", "b", How.LIKELY),)


def test_mixes_of_the_same_people_are_likely_the_same() -> None:
    known = named_mixes([Mix("a", "Ben's wedge", Output.WEDGE, ("ben",))], {"ben": "b1"}.get)
    here = named_mixes([Mix("b", "Side of stage", Output.WEDGE, ("b1",))], lambda musician: musician)

    assert match(known, here).matches == (Match("a", "b", How.LIKELY),)


def test_mixes_that_nobody_hears_are_not_alike_for_that() -> None:
    known = named_mixes([Mix("a", "Side fill", Output.WEDGE, ())], lambda _: None)
    here = named_mixes([Mix("b", "Drums", Output.WEDGE, ())], lambda musician: musician)

    assert match(known, here).matches == (Match("a", None, How.MISSING),)


@given(THINGS, THINGS)
def test_each_thing_is_taken_once_and_none_is_lost(known: list[Named], here: list[Named]) -> None:
    matching = match(known, here)
    taken = [one.here for one in matching.matches if one.here is not None]

    assert [one.known for one in matching.matches] == [one.id for one in known]
    assert len(set(taken)) == len(taken)
    assert sorted([*taken, *matching.new]) == sorted(one.id for one in here)


@given(THINGS, THINGS)
def test_what_is_sure_has_the_same_id_or_the_same_name(known: list[Named], here: list[Named]) -> None:
    theirs = {one.id: one.name for one in known}
    ours = {one.id: one.name for one in here}

    for one in match(known, here).matches:
        if one.is_sure and one.here is not None:
            assert one.known == one.here or comparable(theirs[one.known]) == comparable(ours[one.here])


@given(THINGS)
def test_a_band_matches_itself(things: list[Named]) -> None:
    assert all(one.how is How.SAME_ID and one.known == one.here for one in match(things, things).matches)


def test_two_hundred_sources_on_each_side_are_matched() -> None:
    known = [Named(f"k{number}", f"Tom {number}") for number in range(200)]
    here = [Named(f"h{number}", f"TOM {number}") for number in reversed(range(200))]

    matching = match(known, here)

    assert all(one.how is How.SAME_NAME and one.here == f"h{one.known[1:]}" for one in matching.matches)


def test_likeness_minds_no_order_of_words() -> None:
    assert likeness_percent("Voice lead", "lead VOICE") == 100
