"""The desk's auxes on Prepare: described, planned, and taken over only at the press of a button."""

import pytest

from monreq.domain import commands as c
from monreq.domain import stage_commands as s
from monreq.domain.aux_outputs import Links
from monreq.domain.desk_facts import DeskFacts
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

PREPARE = "/desk/prepare"
TAKE = "put the mixes on these auxes"


def describe(visitor: Visitor, **typed: str) -> Page:
    return visitor.do(visitor.get(PREPARE), "save the desk", typed)


def auxes(evening: Evening) -> dict[str, tuple[int, ...]]:
    return {mix.id: mix.auxes for mix in evening.show.mixes.values()}


def test_a_desk_is_described_as_it_is_typed(evening: Evening, engineer: Visitor) -> None:
    page = describe(
        engineer,
        mono="12",
        stereo="2",
        links="neighbours",
        taken="7, 8",
        outputs="10",
        external_effects="1",
        internal_effects="",
    )

    assert page.notes == []
    assert evening.show.desk == DeskFacts(12, 2, 10, Links.NEIGHBOURS, (7, 8), 1, 0)
    fields = page.markup.fields(page.button("save the desk").form)
    assert (fields["taken"], fields["outputs"]) == (["7 8"], ["10"])


def test_before_a_desk_is_described_only_the_need_is_told(engineer: Visitor) -> None:
    page = engineer.get(PREPARE)

    assert "Needed: 4 auxes (2 wedges, 1 in-ear pair of two each, 0 effect sends) and 4 outputs." in page.text
    assert TAKE not in page.buttons()


def test_nothing_is_put_on_other_auxes_until_the_button_is_pressed(
    evening: Evening, engineer: Visitor
) -> None:
    before = auxes(evening)

    page = describe(engineer, mono="6")
    described = auxes(evening)
    after = engineer.do(page, TAKE)

    assert described == before == {"front": (1,), "ears": (3, 4), "side": (2,)}
    assert auxes(evening) == {"front": (3,), "ears": (1, 2), "side": (4,)}
    assert TAKE not in after.buttons()


def test_the_numbers_that_the_page_showed_are_taken(evening: Evening, engineer: Visitor) -> None:
    page = describe(engineer, mono="6")
    evening.do(s.DescribeDesk(DeskFacts(6, taken=(1,))))

    engineer.do(page, TAKE)

    assert auxes(evening) == {"front": (3,), "ears": (1, 2), "side": (4,)}


def test_numbers_of_a_mix_that_left_meanwhile_are_refused(evening: Evening, engineer: Visitor) -> None:
    page = describe(engineer, mono="6")
    evening.do(c.RemoveMix("side"))

    after = engineer.do(page, TAKE)

    assert after.notes == ["There is no such mix in this show."]
    assert auxes(evening) == {"front": (1,), "ears": (3, 4)}


@pytest.mark.parametrize("numbers", ["", "front", "front:one", "front:1;2", "front:1 side"])
def test_numbers_that_no_page_shows_are_refused(evening: Evening, engineer: Visitor, numbers: str) -> None:
    page = describe(engineer, mono="6")
    before = evening.show

    after = engineer.do(page, page.button(TAKE), {"numbers": numbers})

    assert after.notes == ["Something is missing there, or not as it should be."]
    assert evening.show == before


@pytest.mark.parametrize(
    ("field", "text", "sentence"),
    [
        ("mono", "eight", "Mono auxes: Type a count as a whole number, like 8."),
        ("outputs", "-1", "Outputs: Type a count as a whole number, like 8."),
        ("taken", "7;8", "Taken auxes: Type aux numbers with spaces between them, like 7 8."),
        ("taken", "9", "The desk has no aux of this number."),
        ("stereo", "999", "A count has to be a whole number, from 0 to 999."),
        ("links", "all", "Something is missing there, or not as it should be."),
    ],
)
def test_a_desk_that_cannot_be_is_refused_in_a_sentence(
    evening: Evening, engineer: Visitor, field: str, text: str, sentence: str
) -> None:
    page = describe(engineer, **{"mono": "8", field: text})

    assert page.notes == [sentence]
    assert evening.show.desk is None


def test_a_lead_singer_is_marked_among_the_musicians(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PREPARE)

    engineer.do(page, page.button("save", "/musicians/singer"), {"is_lead": "y"})

    assert [one.id for one in evening.show.musicians.values() if one.is_lead] == ["singer"]
