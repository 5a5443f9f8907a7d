"""How text of any script is fitted into a box."""

import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psutil
import pytest

from monreq.printing.paper import Box, Paper, Style
from monreq.printing.words import Reading
from tests.support.codes import page_texts

BOX = Box(x=10, y=10, width=60, height=12)
STYLE = Style(size=20, smallest=8)


@contextmanager
def paper_for(text: str) -> Iterator[Paper]:
    with Paper("A4", "Test", text, Reading()) as paper:
        paper.add_page()
        yield paper


def printed(paper: Paper) -> str:
    return page_texts(bytes(paper.output()))[0]


def test_fit_sets_a_short_text_at_the_size_asked() -> None:
    with paper_for("Bass") as paper:
        used = paper.fit(BOX, "Bass", STYLE)

        assert used == pytest.approx(20 * 25.4 / 72 * 1.36)


def test_fit_shrinks_a_longer_text_and_keeps_it_whole() -> None:
    text = "Acoustic guitar and second voice"
    with paper_for(text) as paper:
        used = paper.fit(BOX, text, STYLE)

        assert used <= BOX.height
        assert printed(paper).split() == text.split()


@pytest.mark.parametrize("unit", ["word ", "W", "混", "سارة ", "🎤", "﷽"])
def test_fit_cuts_a_text_of_5000_characters_inside_the_box(unit: str) -> None:
    text = unit * (5000 // len(unit))
    with paper_for(text) as paper:
        used = paper.fit(BOX, text, STYLE)

        assert used <= BOX.height
        assert "..." in unicodedata.normalize("NFKC", printed(paper))


@pytest.mark.parametrize("width", range(14, 60, 2))
def test_fit_leaves_no_mark_alone_that_a_no_break_space_ties_to_its_word(width: float) -> None:
    text = "dit \u00ab\u00a0oui\u00a0\u00bb\u00a0? Bien\u00a0: c'est normal"
    with paper_for(text) as paper:
        paper.fit(Box(x=10, y=10, width=width, height=200), text, Style(size=10, smallest=10))

        lines = [line.strip() for line in printed(paper).splitlines() if line.strip()]

    assert " ".join(lines) == text.replace("\u00a0", " ")
    assert [line for line in lines if line[0] in "\u00bb?:" or line[-1] == "\u00ab"] == []


def test_fit_prints_markup_and_placeholders_as_they_are() -> None:
    text = "<b>{nb}</b> **x**"
    with paper_for(text) as paper:
        paper.fit(BOX, text, STYLE)

        assert printed(paper) == text


def test_fit_marks_a_character_wider_than_its_box_as_cut() -> None:
    with paper_for("﷽") as paper:
        used = paper.fit(Box(x=10, y=10, width=5, height=12), "﷽", STYLE)

        assert used <= 12
        assert printed(paper) == "\N{HORIZONTAL ELLIPSIS}"


def test_leaving_the_paper_closes_the_faces_even_if_nothing_was_printed() -> None:
    with paper_for("Bass 田中") as paper:
        while_open = open_faces()

    # The paper is still referred to, so nothing but leaving it can have closed them.
    assert paper.page == 1
    assert while_open == {"NotoSans[wght].ttf", "NotoSansCJKjp-Regular.otf"}
    assert open_faces() == set()


def open_faces() -> set[str]:
    names = {Path(file.path).name for file in psutil.Process().open_files()}
    return {name for name in names if name.startswith("Noto")}


def test_joiner_stays_with_the_letters_it_joins() -> None:
    woman, singer, apart = "👩", "👩\u200d🎤", "👩🎤"
    earlier_face_with_joiners = "سارة"
    with paper_for(earlier_face_with_joiners + apart) as paper:
        paper.set_text_shaping()

        widths = [paper.get_string_width(text) for text in (woman, singer, apart)]

        assert widths[0] == widths[1] < widths[2]
