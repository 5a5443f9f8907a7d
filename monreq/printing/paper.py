"""A sheet to draw on: text of any script fitted into boxes, codes, and the tape a name stands on."""

import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Literal, NamedTuple, Self, cast

from fpdf import FPDF
from fpdf.enums import MethodReturnValue, TextMode, WrapMode, XPos, YPos
from fpdf.errors import FPDFException
from fpdf.fonts import TTFFont

from monreq.printing import fonts, qr
from monreq.printing.words import Reading

PaperSize = Literal["A4", "letter"]
Align = Literal["start", "middle"]

BLACK = 0
GREY = 95
RULE = 150
TAPE = 238

_MM_PER_POINT = 25.4 / 72
# chosen: Noto Sans needs 1.36 of its size from line to line; tighter collides in tall scripts.
_LINE_HEIGHT = 1.36
# chosen: a stroke this wide, in parts of the size, makes every script bold without a second face.
_BOLD_STROKE = 0.045
# chosen: more than this fits no card at any legible size; the end is cut before measuring.
_LONGEST = 400
_ELLIPSIS = "\N{HORIZONTAL ELLIPSIS}"
# Cards made twice from the same text are the same file, and no clock is read for them.
_UNDATED = datetime(2000, 1, 1, tzinfo=UTC)


class Box(NamedTuple):
    """A place on the sheet, from its top left corner, in millimetres."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Style:
    """How a text looks, and how far it may shrink before its end is cut, in points."""

    size: float
    smallest: float
    bold: bool = False
    grey: int = BLACK
    align: Align = "start"
    is_exact: bool = False
    """To be typed letter by letter: breaks anywhere, and I, l, 0 and O look different."""


class Paper(FPDF):
    """Pages in millimetres, set in the faces that the given text needs.

    A context manager: the faces' files are open until it is left.
    """

    def __init__(self, size: PaperSize, title: str, text: str, reading: Reading) -> None:
        super().__init__(format=size)
        self.set_auto_page_break(auto=False)
        self.set_margin(0)
        self.c_margin = 0
        self.set_title(title)
        self.set_lang(reading.language)
        self.reading = reading
        self.set_creation_date(_UNDATED)
        # Otherwise a musician called {nb} would print as the number of pages.
        self.str_alias_nb_pages = ""
        self._face_before: str | None = None
        self._load(fonts.faces_for(fonts.visible(text + reading.comma)))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_raised: object) -> None:
        for font in self.fonts.values():
            if isinstance(font, TTFFont):
                font.ttfont.close()

    def get_fallback_font(self, char: str, style: str = "") -> str | None:
        """Picks the face of a character; a joiner stays with the letters that it joins."""
        if char not in fonts.JOINERS or self._face_before is None:
            self._face_before = super().get_fallback_font(char, style)
        return self._face_before

    def fit(self, box: Box, text: str, style: Style) -> float:
        """Sets a text into a box: as large as asked, else smaller, else with its end cut.

        Returns:
            The height used. [mm]
        """
        shown = fonts.visible(text)
        if len(shown) > _LONGEST:
            shown = shown[:_LONGEST] + _ELLIPSIS
        with self._style(style):
            size = self._size_that_fits(box, shown, style)
            if size is None:
                size, shown = style.smallest, self._cut(box, shown, style)
            return self._set(box, shown, replace(style, size=size))

    def as_read(self, box: Box) -> Box:
        """Returns where a box belongs that was measured from where lines begin: mirrored if that is the right."""
        return box._replace(x=self.w - box.x - box.width) if self.reading.from_right else box

    def code(self, symbol: qr.Modules, x: float, y: float, side: float) -> None:
        """Draws a symbol as one path; its quiet zone is the paper around it.

        Args:
            symbol: What to draw.
            x: The symbol's left edge. [mm]
            y: Its top edge. [mm]
            side: How wide and high it becomes. [mm]
        """
        module = side / len(symbol)
        with self.new_path() as path:
            path.style.fill_color = "#000"
            path.style.stroke_color = None
            for run in qr.dark_runs(symbol):
                path.rectangle(x + run.x * module, y + run.y * module, run.length * module, module)

    def tape(self, box: Box) -> None:
        """Draws a torn strip of label tape."""
        teeth = 6
        step, depth = box.height / teeth, 1.2
        left = [(box.x + depth * (i % 2), box.y + i * step) for i in range(teeth + 1)]
        right = [(x + box.width - depth, y) for x, y in reversed(left)]
        with self.local_context(fill_color=TAPE):
            self.polygon(left + right, style="F")

    def dashes(self, x1: float, y1: float, x2: float, y2: float) -> None:
        """Draws a line to cut along, between two places in millimetres."""
        with self.local_context(draw_color=RULE, line_width=0.25):
            self.set_dash_pattern(dash=2, gap=1.5)
            self.line(x1, y1, x2, y2)

    def _load(self, faces: tuple[str, ...]) -> None:
        for face in faces:
            # The main face leaves joiners to the scripts, which would otherwise be torn apart.
            kept = sorted(fonts.characters(face) - {ord(char) for char in fonts.JOINERS})
            self.add_font(face, fname=fonts.path_of(face), unicode_range=kept if face == fonts.MAIN else None)
        self.set_font(fonts.MAIN, size=10)
        self.set_fallback_fonts(list(faces[1:]), exact_match=False)

    @contextmanager
    def _style(self, style: Style) -> Iterator[None]:
        features = {"zero": True, "ss04": True} if style.is_exact else None
        self.set_text_shaping(features=features)
        with self.local_context(text_color=style.grey, draw_color=style.grey):
            yield

    def _size_that_fits(self, box: Box, text: str, style: Style) -> float | None:
        size = style.size
        while size >= style.smallest:
            if self._height(box.width, text, replace(style, size=size)) <= box.height:
                return size
            size -= 0.5
        return None

    def _cut(self, box: Box, text: str, style: Style) -> str:
        smallest = replace(style, size=style.smallest)
        fits, too_long = 0, len(text)
        while too_long - fits > 1:
            middle = (fits + too_long) // 2
            height = self._height(box.width, text[:middle] + _ELLIPSIS, smallest)
            fits, too_long = (middle, too_long) if height <= box.height else (fits, middle)
        return text[:fits].rstrip() + _ELLIPSIS

    def _height(self, width: float, text: str, style: Style) -> float:
        self.set_font(size=style.size)
        try:
            height = self.multi_cell(
                width,
                _line(style),
                text,
                align=self._align(style),
                wrapmode=_wrap(style),
                dry_run=True,
                output=MethodReturnValue.HEIGHT,
            )
        except FPDFException:
            # A single character is wider than the box, so the text needs a smaller size.
            return math.inf
        return cast("float", height)

    def _align(self, style: Style) -> str:
        return "C" if style.align == "middle" else "R" if self.reading.from_right else "L"

    def _set(self, box: Box, text: str, style: Style) -> float:
        self.set_font(size=style.size)
        self.set_xy(box.x, box.y)
        mode = TextMode.FILL_STROKE if style.bold else TextMode.FILL
        with self.local_context(text_mode=mode, line_width=_BOLD_STROKE * style.size * _MM_PER_POINT):
            self.multi_cell(
                box.width,
                _line(style),
                text,
                align=self._align(style),
                wrapmode=_wrap(style),
                new_x=XPos.LEFT,
                new_y=YPos.NEXT,
            )
        return self.y - box.y


def _line(style: Style) -> float:
    return style.size * _MM_PER_POINT * _LINE_HEIGHT


def _wrap(style: Style) -> WrapMode:
    return WrapMode.CHAR if style.is_exact else WrapMode.WORD
