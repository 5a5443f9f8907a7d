"""Names and words: any script, one line, no control, bounded."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.refusals import NameRequired, Refusal, TextTooLong
from monreq.domain.texts import NAME_LIMIT, WORDS_LIMIT, clean_name, clean_words

DIRECTIONAL = "\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u061c"


@pytest.mark.parametrize(
    "name",
    [
        "Øystein",
        "Željko",
        "Ольга",
        "Ελένη",
        "יעל",
        "نور",
        "می\u200cخواهم",  # noqa: RUF001 - these letters are Persian and meant to be
        "अनुष्का",
        "க்ஷ",
        "ไมค์",
        "山田",
        "한별",
        "Ngọc",
        "ꯃꯅꯤ",
        "🎸",
        "👩\u200d🎤",
        "Vox 2 (L/R)",
        "+48",
    ],
)
def test_names_of_any_script_are_kept(name: str) -> None:
    assert clean_name(name) == name


@pytest.mark.parametrize(
    "markup", ["<script>alert(1)</script>", "{{ 7*7 }}", "a&amp;b", '"; --', "%s%n", "`$(x)`"]
)
def test_markup_is_kept_as_text(markup: str) -> None:
    assert clean_words(markup) == markup


def test_text_is_composed() -> None:
    assert clean_name("Cafe\u0301") == "Café"


def test_text_is_composed_across_what_was_taken_out() -> None:
    assert clean_name("Cafe\u200e\u0301") == "Café"


def test_text_becomes_one_line_with_single_spaces() -> None:
    assert clean_words("  too\r\n\tloud\u2028\u00a0 here\u3000") == "too loud here"


@pytest.mark.parametrize("control", ["\x00", "\x07", "\x1b", "\x7f", "\x9b", "\ufffe", "\ue000", "\ud800"])
def test_control_and_private_characters_are_taken_out(control: str) -> None:
    assert clean_name(f"Ba{control}ss") == "Bass"


@pytest.mark.parametrize("mark", DIRECTIONAL)
def test_directional_characters_are_taken_out(mark: str) -> None:
    assert clean_name(f"Ba{mark}ss") == "Bass"


@pytest.mark.parametrize("name", ["", " ", "\u200d", "\u0301", DIRECTIONAL, "\n\t\x00"])
def test_name_without_anything_readable_is_refused(name: str) -> None:
    with pytest.raises(NameRequired):
        clean_name(name)


def test_names_and_words_are_bounded() -> None:
    assert clean_name("x" * NAME_LIMIT) == "x" * 60
    assert clean_words("x" * WORDS_LIMIT) == "x" * 200
    with pytest.raises(TextTooLong):
        clean_name("x" * 61)
    with pytest.raises(TextTooLong):
        clean_words("x" * 201)


@pytest.mark.parametrize("character", ["x", " ", "\u202e", "\x00", "e\u0301"])
def test_five_thousand_characters_are_refused_whatever_they_are(character: str) -> None:
    with pytest.raises(TextTooLong):
        clean_name(character * 5000)
    with pytest.raises(TextTooLong):
        clean_words(character * 5000)


def test_words_may_be_empty() -> None:
    assert clean_words(" \n ") == ""


@given(st.text())
def test_cleaned_text_is_short_composed_and_clean_already(text: str) -> None:
    try:
        words = clean_words(text)
    except Refusal:
        return

    assert clean_words(words) == words
    assert len(words) <= WORDS_LIMIT
    assert unicodedata.is_normalized("NFC", words)
    assert not set(words) & set(DIRECTIONAL)
    assert words.isprintable() or not any(unicodedata.category(one) == "Cc" for one in words)
    words.encode()
