"""The printed sheets: every line of every table is there, pages break between lines, and nothing is cut at an edge."""

from collections.abc import Sequence
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.printed import sheet_words
from monreq.printing.paper import PaperSize
from monreq.printing.sheets import sheets_pdf
from monreq.printing.words import Reading
from tests.support.codes import page_pictures, page_texts, texts_off_the_page

ROWS = 75
LONG = "Second flugelhorn of the travelling village fair wind band's"


@dataclass(frozen=True)
class Sheet:
    title: str
    head: Sequence[str]
    rows: Sequence[Sequence[str]]
    about: Sequence[str] = ("Harbour night",)


@dataclass(frozen=True)
class Drawn:
    name: str
    x: int
    y: int
    sources: Sequence[str] = ()
    facing_deg: int = 0
    room: int = 150
    shift: int = 0


@dataclass(frozen=True)
class Stage:
    musicians: Sequence[Drawn] = ()
    sources: Sequence[Drawn] = ()
    left: int = -400
    top: int = -600
    width: int = 800
    depth: int = 700
    front: int = 0


INPUTS = Sheet(
    "Input list", ("number", "source"), [(str(one), f"Source {one}") for one in range(1, ROWS + 1)]
)
MIX = Sheet(
    "Bass",
    ("source", "level", "pan"),
    [("Kick", "\N{MINUS SIGN}12.5", "left 20"), ("Voice", "off", "middle")],
)


def printed(*sheets: Sheet, stage: Stage | None = None, size: PaperSize = "A4") -> bytes:
    return sheets_pdf(sheets, stage, sheet_words(), Reading(), size=size)


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("size", ["A4", "letter"])
def test_sheets_print_every_line_of_every_table_from_a_new_page_on(size: PaperSize) -> None:
    pages = [flat(page) for page in page_texts(printed(INPUTS, MIX, size=size))]

    words = " ".join(pages[:-1]).split()
    assert [word for word in words if word.isdigit()] == [
        str(one) for one in range(1, ROWS + 1) for _ in range(2)
    ]
    assert pages[-1] == "Bass Harbour night source level pan Kick \N{MINUS SIGN}12.5 left 20 Voice off middle"


def test_a_long_table_repeats_its_title_and_head_on_each_page() -> None:
    pages = [flat(page) for page in page_texts(printed(INPUTS))]

    assert len(pages) == 3
    assert [page.startswith("Input list") for page in pages] == [True] * 3
    assert [page.count("number source") for page in pages] == [1] * 3


@pytest.mark.parametrize("size", ["A4", "letter"])
def test_nothing_stands_outside_the_page_however_long_the_names(size: PaperSize) -> None:
    mixes = [LONG] * 6
    wide = Sheet(LONG, ("source", *mixes), [(LONG, *(["\N{MINUS SIGN}12.5 L35"] * 6))] * 60, (LONG * 5, LONG))
    people = [Drawn(LONG, x, -250, [LONG, LONG]) for x in (-390, 0, 390)]

    pdf = printed(wide, stage=Stage(people, [Drawn(LONG, -400, -600)]), size=size)

    assert texts_off_the_page(pdf) == []


def test_columns_are_as_wide_as_what_stands_in_them() -> None:
    listing = Sheet("Input list", ("number", "source", "where from"), [("3", LONG, "open mic")])

    (page,) = page_texts(printed(listing))

    assert LONG in flat(page)


def test_the_stage_plan_follows_the_first_sheet_with_everybody_and_the_audience() -> None:
    stage = Stage([Drawn("Ada", 0, -100, ["Lead voice"], facing_deg=30)], [Drawn("Kick", 100, -300)])

    pages = [flat(page) for page in page_texts(printed(MIX, INPUTS, stage=stage))]

    assert pages[1].startswith("Stage plan audience")
    assert all(name in pages[1] for name in ("Ada", "Lead voice", "Kick"))
    assert not any("Stage plan" in page for page in (pages[0], *pages[2:]))


def test_who_turns_points_elsewhere_on_the_plan() -> None:
    facing = [
        page_pictures(printed(MIX, stage=Stage([Drawn("", 0, -300, facing_deg=turn)])), 3.0)[1].tobytes()
        for turn in (0, 90, 180, 270)
    ]

    assert len(set(facing)) == 4


@pytest.mark.parametrize(
    "name",
    [
        "سارة بنت علي",
        "田中 花子",
        "<b>Anna</b> {nb} **x** __y__",
        "Zoë\x00\x1b\u202e",
        "",
        "W" * 5000,
        "混" * 5000,
        "﷽",
    ],
)
def test_sheets_take_any_name(name: str) -> None:
    sheet = Sheet(name, (name, name), [(name, name), ("Kick", "0")], (name,))

    pdf = printed(sheet, stage=Stage([Drawn(name, 0, 0, [name])], [Drawn(name, 9, -9)]))

    assert "Kick" in page_texts(pdf)[0]
    assert texts_off_the_page(pdf) == []


def test_markup_and_placeholders_are_printed_as_they_are() -> None:
    name = "<b>{nb}</b> **x**"

    (page,) = page_texts(printed(Sheet("Bass", ("source",), [(name,)])))

    assert name in flat(page)


@settings(max_examples=15, deadline=None)
@given(st.lists(st.text(max_size=60), max_size=8), st.integers(0, 70))
def test_sheets_take_whatever_is_typed(names: list[str], rows: int) -> None:
    head = ("source", *names)

    pdf = printed(Sheet("Mixes", head, [(f"Line {number}.", *names) for number in range(rows)]))

    text = "".join(page_texts(pdf))
    assert all(f"Line {number}." in text for number in range(rows))


def test_sheets_printed_twice_are_the_same_file() -> None:
    assert printed(INPUTS, MIX) == printed(INPUTS, MIX)
