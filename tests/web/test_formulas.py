"""Formulas are written from the left, also between words that run from the right."""

import pytest

from monreq.web import languages
from monreq.web.reckoned import Reckoned
from tests.support.evening import Evening

MARK = "\N{LEFT-TO-RIGHT MARK}"
CHAPTER = Reckoned("sum", "", "", ("a = 10 b - c",), (), (), ())


@pytest.mark.parametrize("code", ["en", "ja"])
def test_a_formula_stands_as_it_is_in_lines_from_the_left(evening: Evening, code: str) -> None:
    with languages.speaking(evening.monreq.flask, code):
        assert CHAPTER.typeset == ("a = 10 b \N{MINUS SIGN} c",)


def test_words_and_figures_of_a_formula_are_kept_apart_in_lines_from_the_right(evening: Evening) -> None:
    with languages.speaking(evening.monreq.flask, "ar"):
        [line] = CHAPTER.typeset

    assert line == f"a {MARK}={MARK} {MARK}10{MARK} b {MARK}\N{MINUS SIGN}{MARK} c"
