"""A desk as it is described: taken by the plan, numbered as it is labelled."""

import pytest

from monreq.domain.aux_outputs import Aux, AuxKind, Desk, Links
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.plan_refusals import BadCount, NoSuchAux


def test_a_described_desk_is_the_plans_desk() -> None:
    facts = DeskFacts(8, 2, 6, Links.NEIGHBOURS, (7,), 1, 2)

    assert facts.for_plan() == Desk(8, 2, 6, Links.NEIGHBOURS, frozenset({7}))


@pytest.mark.parametrize(
    ("aux", "labels"),
    [
        (Aux(AuxKind.MONO, (3,)), (3,)),
        (Aux(AuxKind.LINKED, (3, 4)), (3, 4)),
        (Aux(AuxKind.STEREO, (2,)), (10,)),
    ],
)
def test_stereo_auxes_are_labelled_on_after_the_mono_ones(aux: Aux, labels: tuple[int, ...]) -> None:
    assert DeskFacts(8, 2).labels(aux) == labels


@pytest.mark.parametrize(
    "facts",
    [
        DeskFacts(-1),
        DeskFacts(8, 1000),
        DeskFacts(500, 500),
        DeskFacts(8, outputs=-1),
        DeskFacts(8, external_effects=-1),
        DeskFacts(8, external_effects=600, internal_effects=600),
    ],
)
def test_counts_that_no_desk_has_are_refused(facts: DeskFacts) -> None:
    with pytest.raises(BadCount):
        facts.for_plan()


@pytest.mark.parametrize("taken", [(0,), (9,), (-1, 3)])
def test_a_taken_aux_that_is_not_there_is_refused(taken: tuple[int, ...]) -> None:
    with pytest.raises(NoSuchAux):
        DeskFacts(8, taken=taken).for_plan()


@pytest.mark.parametrize(
    ("numbers", "is_stereo", "links", "can"),
    [
        ((3,), False, Links.ODD_EVEN, True),
        ((3,), True, Links.ODD_EVEN, False),
        ((7,), False, Links.ODD_EVEN, False),
        ((9,), True, Links.NONE, True),
        ((9,), False, Links.NONE, True),
        ((11,), True, Links.ODD_EVEN, False),
        ((0,), False, Links.ODD_EVEN, False),
        ((3, 4), True, Links.ODD_EVEN, True),
        ((4, 5), True, Links.ODD_EVEN, False),
        ((4, 5), True, Links.NEIGHBOURS, True),
        ((5, 4), True, Links.NEIGHBOURS, False),
        ((3, 4), True, Links.NONE, False),
        ((3, 4), False, Links.ODD_EVEN, False),
        ((7, 8), True, Links.ODD_EVEN, False),
        ((8, 9), True, Links.NEIGHBOURS, False),
        ((), False, Links.ODD_EVEN, False),
    ],
)
def test_auxes_carry_what_they_can(
    numbers: tuple[int, ...],
    is_stereo: bool,  # noqa: FBT001 - a column of the table
    links: Links,
    can: bool,  # noqa: FBT001 - a column of the table
) -> None:
    assert DeskFacts(8, 2, links=links, taken=(7,)).can_carry(numbers, is_stereo=is_stereo) is can
