"""Which faces a text is set in, and what becomes of characters that none carries."""

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.printing import fonts

SAMPLES = {
    "Latin": "Łódź Ünï Çağla Đặng",
    "Greek": "Ελένη",
    "Cyrillic": "Олександра",
    "Arabic": "سارة بنت علي",
    "Persian": "گیتار پژمان",
    "Hebrew": "יעל כהן",
    "Devanagari": "अनुष्का",
    "Bengali": "অনন্যা",
    "Tamil": "தமிழ்",
    "Telugu": "తెలుగు",
    "Gujarati": "ગુજરાતી",
    "Kannada": "ಕನ್ನಡ",
    "Malayalam": "മലയാളം",
    "Gurmukhi": "ਪੰਜਾਬੀ",
    "Oriya": "ଓଡ଼ିଆ",
    "Sinhala": "සිංහල",
    "Thai": "สมชาย ใจดี",
    "Lao": "ລາວ",
    "Khmer": "ខ្មែរ",
    "Burmese": "မြန်မာ",
    "Georgian": "ნინო",
    "Armenian": "Անի",
    "Ethiopic": "አበበ",
    "Japanese": "田中 花子 ドラム",
    "Korean": "김민수",
    "Simplified Chinese": "王伟 键盘",
    "Traditional Chinese": "鍵盤 臺灣",
    "Symbols": "♪ ♯ → ★",
    "Emoji": "🎤🥁🎸",
}


@pytest.mark.parametrize("script", SAMPLES)
def test_visible_keeps_every_living_script(script: str) -> None:
    text = unicodedata.normalize("NFC", SAMPLES[script])

    assert fonts.visible(text) == text


@pytest.mark.parametrize("script", SAMPLES)
def test_faces_for_a_script_carry_all_of_it(script: str) -> None:
    text = fonts.visible(SAMPLES[script])

    faces = fonts.faces_for(text)

    carried = frozenset[int]().union(*(fonts.characters(face) for face in faces))
    assert faces[0] == fonts.MAIN
    assert {ord(char) for char in text} <= carried


def test_faces_for_plain_text_are_the_main_face_alone() -> None:
    assert fonts.faces_for("Lead voice, wedge, aux 1: Ελένη & Олег") == (fonts.MAIN,)


def test_faces_for_one_script_leave_the_others_closed() -> None:
    assert fonts.faces_for("Bass สมชาย") == (fonts.MAIN, "NotoSansThai[wght]")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Bass 𒀀", "Bass \ufffd"),
        ("a\ud800b", "a\ufffdb"),
        ("a\x00b\tc\nd\u2028e", "a b c d e"),
        ("\u00ab\u00a0a\u202f\u00bb", "\u00ab\u00a0a\u00a0\u00bb"),
        ("\u202eabc\u202c", "abc"),
        ("soft\u00adhyphen", "softhyphen"),
        ("e\u0301", "é"),
        ("a  b ", "a  b "),
        ("", ""),
    ],
)
def test_visible_replaces_what_cannot_be_set(text: str, shown: str) -> None:
    assert fonts.visible(text) == shown


@settings(max_examples=200, deadline=None)
@given(st.text())
def test_visible_text_is_always_carried_by_its_faces(text: str) -> None:
    shown = fonts.visible(text)

    faces = fonts.faces_for(shown)
    carried = frozenset[int]().union(*(fonts.characters(face) for face in faces))
    assert {ord(char) for char in shown} <= carried
    assert fonts.visible(shown) == shown
