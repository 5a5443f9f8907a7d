"""What a desk's auxes carry: stereo ones first, then linked ones, buses and outputs counted apart."""

import itertools
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.aux_outputs import Aux, AuxKind, Desk, Links, Needs, lay_out
from monreq.domain.plan_refusals import BadCount, NoSuchAux


def mono(number: int) -> Aux:
    return Aux(AuxKind.MONO, (number,))


def linked(number: int) -> Aux:
    return Aux(AuxKind.LINKED, (number, number + 1))


def stereo(number: int) -> Aux:
    return Aux(AuxKind.STEREO, (number,))


def test_in_ear_pairs_take_stereo_auxes_before_mono_ones_are_linked() -> None:
    layout = lay_out(Desk(mono=4, stereo=1), Needs(mono=2, stereo=2))

    assert layout.stereo == (stereo(1), linked(1))
    assert layout.single == (mono(3), mono(4))
    assert layout.is_enough


def test_wedge_takes_a_stereo_aux_when_no_mono_one_is_left() -> None:
    layout = lay_out(Desk(mono=1, stereo=2), Needs(mono=2, stereo=1))

    assert layout.stereo == (stereo(1),)
    assert layout.single == (mono(1), stereo(2))


def test_desk_that_links_odd_to_even_leaves_out_an_aux_whose_other_half_is_taken() -> None:
    desk = Desk(mono=5, stereo=0, taken=frozenset({2}))

    assert desk.linkable == [(3, 4)]
    assert Desk(5, 0, links=Links.NEIGHBOURS, taken=frozenset({2})).linkable == [(3, 4)]
    assert Desk(5, 0, links=Links.NEIGHBOURS, taken=frozenset({1})).linkable == [(2, 3), (4, 5)]
    assert Desk(5, 0, links=Links.ODD_EVEN, taken=frozenset({1})).linkable == [(3, 4)]


def test_desk_that_links_nothing_lacks_two_auxes_for_each_in_ear_pair() -> None:
    layout = lay_out(Desk(mono=8, stereo=1, links=Links.NONE), Needs(mono=0, stereo=3))

    assert layout.stereo == (stereo(1),)
    assert layout.missing_buses == 4


def test_effect_within_the_desk_takes_a_bus_and_no_output() -> None:
    layout = lay_out(Desk(mono=6, stereo=0, outputs=5), Needs(mono=5, stereo=0, internal_effects=1))

    assert layout.is_enough


def test_effect_outside_the_desk_takes_a_bus_and_an_output() -> None:
    layout = lay_out(Desk(mono=6, stereo=0, outputs=5), Needs(mono=5, stereo=0, external_effects=1))

    assert layout.missing_buses == 0
    assert layout.missing_outputs == 1
    assert not layout.is_enough


def test_outputs_can_be_enough_where_buses_are_not() -> None:
    layout = lay_out(Desk(mono=5, stereo=0, outputs=8), Needs(mono=5, stereo=0, internal_effects=1))

    assert layout.missing_buses == 1
    assert layout.missing_outputs == 0


def test_wedge_on_a_stereo_aux_takes_one_output_only() -> None:
    assert lay_out(Desk(mono=0, stereo=4, outputs=4), Needs(mono=4, stereo=0)).is_enough


SMALL = st.integers(0, 4)


@st.composite
def desks(draw: st.DrawFn) -> Desk:
    mono_auxes = draw(SMALL)
    taken = draw(st.frozensets(st.integers(1, mono_auxes))) if mono_auxes else frozenset()
    return Desk(mono_auxes, draw(SMALL), links=draw(st.sampled_from(Links)), taken=taken)


@given(desks(), SMALL, SMALL)
def test_layout_is_enough_exactly_if_some_way_is(desk: Desk, wedges: int, pairs: int) -> None:
    assert (lay_out(desk, Needs(wedges, pairs)).missing_buses == 0) == some_way(desk, wedges, pairs)


def some_way(desk: Desk, wedges: int, pairs: int) -> bool:
    """Try every set of links and every number of in-ear pairs on stereo auxes."""
    step = {Links.NONE: 0, Links.ODD_EVEN: 2, Links.NEIGHBOURS: 1}[desk.links]
    possible = [
        (aux, aux + 1) for aux in desk.free if aux + 1 in desk.free and step and (step == 1 or aux % 2 == 1)
    ]
    for count in range(len(possible) + 1):
        for chosen in itertools.combinations(possible, count):
            used = [aux for pair in chosen for aux in pair]
            if len(set(used)) < len(used):
                continue
            for on_stereo in range(min(pairs, desk.stereo) + 1):
                left = len(desk.free) - len(used) + desk.stereo - on_stereo
                if count >= pairs - on_stereo and left >= wedges:
                    return True
    return False


@given(SMALL, SMALL, SMALL, SMALL)
def test_no_aux_carries_two_things(mono_auxes: int, stereo_auxes: int, wedges: int, pairs: int) -> None:
    layout = lay_out(Desk(mono_auxes, stereo_auxes), Needs(wedges, pairs, 1, 1))

    used = [
        (aux.kind is AuxKind.STEREO, number)
        for aux in (*layout.stereo, *layout.single)
        for number in aux.numbers
    ]
    assert len(set(used)) == len(used)


@pytest.mark.parametrize("count", [-1, 1000, 1.5])
def test_count_that_is_none_is_refused(count: Any) -> None:
    with pytest.raises(BadCount):
        Desk(mono=count, stereo=0)
    with pytest.raises(BadCount):
        Desk(mono=0, stereo=0, outputs=count)


def test_taken_aux_that_the_desk_has_not_is_refused() -> None:
    with pytest.raises(NoSuchAux):
        Desk(mono=4, stereo=0, taken=frozenset({5}))
