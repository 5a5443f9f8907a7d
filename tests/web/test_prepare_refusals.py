"""What Prepare refuses: names, choices, numbers and pages that cannot be taken."""

import pytest

from monreq.domain import commands as c
from tests.support.evening import Evening
from tests.support.prepare_page import PREPARE, add, save, within
from tests.support.visitor import Visitor

NAMED: dict[str, dict[str, str]] = {
    "sources": {"kind": "open_mic", "use": "music"},
    "musicians": {},
    "mixes": {"output": "wedge"},
}


@pytest.mark.parametrize("section", NAMED)
@pytest.mark.parametrize("length", [61, 5000])
def test_a_name_that_is_too_long_is_refused_with_a_sentence(
    evening: Evening, engineer: Visitor, section: str, length: int
) -> None:
    before = evening.show

    page = add(engineer, section, name="x" * length, **NAMED[section])

    assert page.notes == ["That text is too long."]
    assert evening.show == before


@pytest.mark.parametrize("section", NAMED)
@pytest.mark.parametrize("name", [" ", "\u200b\u200e", "\x00\x07"])
def test_a_name_of_nothing_is_refused_with_a_sentence(
    evening: Evening, engineer: Visitor, section: str, name: str
) -> None:
    before = evening.show

    page = add(engineer, section, name=name, **NAMED[section])

    assert page.notes == ["A name is missing."]
    assert evening.show == before


def test_a_second_source_of_one_name_is_refused(evening: Evening, engineer: Visitor) -> None:
    before = evening.show

    page = add(engineer, "sources", name="VOICE", kind="open_mic", use="music")

    assert page.notes == ["Another source is called so already: give each a name of its own."]
    assert evening.show == before


def test_a_show_has_a_name(evening: Evening, engineer: Visitor) -> None:
    pages = [engineer.do(engineer.get(PREPARE), "rename", {"name": name}) for name in ("x" * 5000, " ")]

    assert [page.notes for page in pages] == [["That text is too long."], ["A name is missing."]]
    assert evening.show.name == "Evening"


@pytest.mark.parametrize("auxes", ["0", "1000", "1 2 3", "one", "-1", "1;2"])
def test_aux_outputs_are_numbers_of_the_desk(evening: Evening, engineer: Visitor, auxes: str) -> None:
    before = evening.show

    page = save(engineer, "/mixes/ears", auxes=auxes)

    assert len(page.notes) == 1
    assert page.notes[0].endswith(".")
    assert evening.show == before


@pytest.mark.parametrize(
    ("address", "field", "value"),
    [
        ("/sources/drums", "kind", "microphone"),
        ("/sources/drums", "use", ""),
        ("/mixes/ears", "output", "headphones"),
    ],
)
def test_a_choice_that_is_not_offered_is_refused(
    evening: Evening, engineer: Visitor, address: str, field: str, value: str
) -> None:
    before = evening.show

    page = save(engineer, address, **{field: value})

    assert page.notes == ["Something is missing there, or not as it should be."]
    assert evening.show == before


def test_a_musician_who_left_meanwhile_is_refused(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PREPARE)
    evening.do(c.RemoveMusician("drummer"))

    after = engineer.do(page, page.button("save", "/mixes/ears"))

    assert after.notes == ["There is no such musician in this mix."]
    assert evening.show.mix("ears").musicians == ("bass",)


@pytest.mark.parametrize("unfit", ["UPPER", "a-b", "x" * 13, "%3Cb%3E"])
def test_an_id_of_another_shape_is_refused(evening: Evening, engineer: Visitor, unfit: str) -> None:
    page = engineer.get(PREPARE)
    fields = page.sent_by(page.button("save", "/musicians/singer"))

    answer = engineer.post(f"{PREPARE}/musicians/{unfit}", fields)

    assert answer.status == 422
    assert answer.notes == ["An id is 1 to 12 of the letters a to z and the digits."]
    assert len(evening.show.musicians) == 4


@pytest.mark.parametrize("kind", ["return", "acoustic_pickup"])
def test_what_was_typed_into_a_refused_line_stands_in_it_again_with_the_reason_beside(
    engineer: Visitor, kind: str
) -> None:
    typed = {"name": "x" * 61, "kind": kind, "use": "click", "is_stereo": "y", "trim": "2.5"}

    page = add(engineer, "sources", **typed)

    (button,) = (
        one
        for one in page.markup.buttons()
        if one.words == "add" and one.form.one("input", name="name").attrs["value"]
    )
    fields = page.sent_by(button)
    assert {name: fields[name] for name in typed} == {name: [value] for name, value in typed.items()}
    assert "That text is too long." in button.form.text


def test_a_refused_line_is_sent_once_more_as_the_same_thing(evening: Evening, engineer: Visitor) -> None:
    page = add(engineer, "musicians", name="x" * 61)
    part = page.markup.root.one(id="musicians")
    (button,) = (one for one in page.markup.buttons() if one.words == "add" and within(part, one.form))

    engineer.do(page, button, {"name": "Eve"})

    assert list(evening.show.musicians.values())[-1].name == "Eve"


def test_other_lines_show_what_stands_when_one_is_refused(evening: Evening, engineer: Visitor) -> None:
    page = save(engineer, "/sources/drums", name=" ")

    names = [one.attrs["value"] for one in page.markup.root.every("input", name="name")]
    assert "Voice" in names
    assert "Drums" not in names
    assert evening.show.sources["drums"].name == "Drums"


def test_adding_twice_from_one_page_adds_one(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PREPARE)
    part = page.markup.root.one(id="musicians")
    (button,) = (one for one in page.markup.buttons() if one.words == "add" and within(part, one.form))

    for _ in range(2):
        engineer.press(page, button, {"name": "Eve"})

    assert [one.name for one in evening.show.musicians.values()].count("Eve") == 1
