"""The faces that paper is set in: which script each carries, and which ones a text needs."""

import unicodedata
from collections.abc import Iterable, Iterator
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

import uharfbuzz

MAIN = "NotoSans[wght]"
"""Latin, Greek and Cyrillic; every text starts from this face."""

CJK = "NotoSansCJKjp-Regular"

_NO_BREAK_SPACES = "\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}"

# In the order asked. The largest is last, so that it is opened for its own scripts only.
_SCRIPTS = (
    "NotoSansArabic[wght]",
    "NotoSansHebrew[wght]",
    "NotoSansDevanagari[wght]",
    "NotoSansBengali[wght]",
    "NotoSansTamil[wght]",
    "NotoSansTelugu[wght]",
    "NotoSansGujarati[wght]",
    "NotoSansKannada[wght]",
    "NotoSansMalayalam[wght]",
    "NotoSansGurmukhi[wght]",
    "NotoSansOriya[wght]",
    "NotoSansSinhala[wght]",
    "NotoSansThai[wght]",
    "NotoSansLao[wght]",
    "NotoSansKhmer[wght]",
    "NotoSansMyanmar[wght]",
    "NotoSansGeorgian[wght]",
    "NotoSansArmenian[wght]",
    "NotoSansEthiopic[wght]",
    "NotoSansSymbols[wght]",
    "NotoEmoji[wght]",
    CJK,
)

REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
"""Stands for a character that no face carries."""

JOINERS = frozenset("\N{ZERO WIDTH JOINER}\N{ZERO WIDTH NON-JOINER}\ufe0e\ufe0f")
"""Invisible characters that shape their neighbours: they keep to the neighbours' face."""


def path_of(face: str) -> Path:
    """Tells where a face's file is installed."""
    return Path(str(_resource(face)))


def faces_for(text: str) -> tuple[str, ...]:
    """Names the faces that carry a text, the main one first, and no more than it needs."""
    missing = {ord(char) for char in text} - characters(MAIN)
    return (MAIN, *_helpers(missing))


def visible(text: str) -> str:
    """Makes a text one line that can be set: what no face carries becomes a visible replacement.

    Controls and line ends become spaces; spaces that keep words together stay; direction marks and the like, which have no shape, go.
    """
    return "".join(_visible(char) for char in unicodedata.normalize("NFC", text))


@cache
def characters(face: str) -> frozenset[int]:
    """Reads which code points a face carries."""
    file = uharfbuzz.Blob.from_file_path(path_of(face))
    return frozenset(uharfbuzz.Face(file).unicodes)


def _resource(face: str) -> Traversable:
    if face == CJK:
        return files("noto_cjk_sans_jp_regular") / f"{face}.otf"
    return files("manimgx_fonts") / f"{face}.ttf"


def _helpers(missing: Iterable[int]) -> Iterator[str]:
    left = set(missing)
    for face in _SCRIPTS:
        if not left:
            return
        if left & characters(face):
            left -= characters(face)
            yield face


def _visible(char: str) -> str:
    if char in _NO_BREAK_SPACES:
        return _NO_BREAK_SPACES[0]
    category = unicodedata.category(char)
    if category in {"Cc", "Zl", "Zp", "Zs"}:
        return " "
    if category == "Cf" and char not in JOINERS:
        return ""
    return char if _is_carried(ord(char)) else "" if char in JOINERS else REPLACEMENT


@cache
def _is_carried(code_point: int) -> bool:
    return any(code_point in characters(face) for face in (MAIN, *_SCRIPTS))
