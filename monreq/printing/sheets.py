"""Sheets as a PDF: tables of any script on as many pages as they take, and the stage plan drawn."""

import time
from collections.abc import Iterable, Sequence
from typing import Protocol

from monreq.printing.paper import GREY, RULE, Box, Paper, PaperSize, Style
from monreq.printing.words import Reading, SheetWords

_LEFT = _TOP = 14.0
_ROW = 7.5
_TITLE = Style(18, 11, bold=True)
_ABOUT = Style(10, 8, grey=GREY)
_HEAD = Style(9, 6, grey=GREY)
_NAME = Style(11, 7, bold=True)
_CELL = Style(11, 7)
_STANDS = Style(10, 6, bold=True, align="middle")
_BESIDE = Style(8, 6, grey=GREY, align="middle")
_NARROWEST, _WIDEST = (
    6,
    36,
)  # chosen: a column is as wide as its longest text, within these bounds [characters]
_SQUARE_CM, _LINE_CM = 44, 24


class Sheet(Protocol):
    """A titled table."""

    @property
    def title(self) -> str:
        """What it is about."""

    @property
    def about(self) -> Sequence[str]:
        """Lines above the table."""

    @property
    def head(self) -> Sequence[str]:
        """The columns."""

    @property
    def rows(self) -> Sequence[Sequence[str]]:
        """The lines, each with a cell for every column."""


class Drawn(Protocol):
    """Who or what stands on a stage plan, in centimetres, y growing towards the audience."""

    @property
    def room(self) -> int:
        """How wide its names may be, so that they meet nobody."""

    @property
    def shift(self) -> int:
        """How far its names stand to the right, to have that room."""

    @property
    def name(self) -> str:
        """What it is called."""

    @property
    def x(self) -> int:
        """To the audience's right of the middle."""

    @property
    def y(self) -> int:
        """Towards the audience."""

    @property
    def facing_deg(self) -> int:
        """0 towards the audience, growing clockwise seen from above."""

    @property
    def sources(self) -> Sequence[str]:
        """The names of what stands beside them."""


class Drawing(Protocol):
    """A stage plan, in centimetres."""

    @property
    def left(self) -> int:
        """Its left edge."""

    @property
    def top(self) -> int:
        """Its back."""

    @property
    def width(self) -> int:
        """How wide it is."""

    @property
    def depth(self) -> int:
        """How deep it is."""

    @property
    def front(self) -> int:
        """Where the stage ends."""

    @property
    def musicians(self) -> Sequence[Drawn]:
        """Who stands there."""

    @property
    def sources(self) -> Sequence[Drawn]:
        """What stands there by itself."""


def sheets_pdf(
    sheets: Sequence[Sheet],
    stage: Drawing | None,
    words: SheetWords,
    reading: Reading,
    *,
    size: PaperSize = "A4",
) -> bytes:
    """Print sheets, each from a new page on.

    Args:
        sheets: The tables.
        stage: The stage plan, printed behind the first of them; None if nobody was placed.
        words: What is said beside the names.
        reading: How it is read; from the right, tables begin there. A stage plan stays as the audience sees it.
        size: The paper in the printer.
    """
    text = "".join(_texts(sheets, stage)) + words.stage_plan + words.audience
    with Paper(size, words.title, text, reading) as paper:
        for number, sheet in enumerate(sheets):
            _print(paper, sheet)
            if number == 0 and stage is not None:
                _draw(paper, stage, words)
        return bytes(paper.output())


def _texts(sheets: Sequence[Sheet], stage: Drawing | None) -> Iterable[str]:
    for sheet in sheets:
        yield from (sheet.title, *sheet.about, *sheet.head)
        yield from (cell for row in sheet.rows for cell in row)
    for one in (*stage.musicians, *stage.sources) if stage is not None else ():
        yield from (one.name, *one.sources)


def _print(paper: Paper, sheet: Sheet) -> None:
    widths = _column_widths(paper, sheet)
    y = _begin(paper, sheet.title)
    for line in sheet.about:
        y += paper.fit(Box(_LEFT, y, _width(paper), 12), line, _ABOUT) + 1
    y = _row(paper, sheet.head, widths, y + 2, (_HEAD, _HEAD))
    for row in sheet.rows:
        if y + _ROW > paper.h - _TOP:
            y = _row(paper, sheet.head, widths, _begin(paper, sheet.title), (_HEAD, _HEAD))
        y = _row(paper, row, widths, y, (_NAME, _CELL))
        time.sleep(0)  # a long list takes seconds: whoever asks meanwhile is answered between two lines


def _column_widths(paper: Paper, sheet: Sheet) -> list[float]:
    longest = [max(map(len, column)) for column in zip(*sheet.rows, strict=True)] or [1] * len(sheet.head)
    shares = [min(max(_NARROWEST, one), _WIDEST) for one in longest]
    return [_width(paper) * share / sum(shares) for share in shares]


def _begin(paper: Paper, title: str) -> float:
    paper.add_page()
    return _TOP + paper.fit(Box(_LEFT, _TOP, _width(paper), 12), title, _TITLE) + 2


def _row(
    paper: Paper, cells: Sequence[str], widths: Sequence[float], y: float, styles: tuple[Style, Style]
) -> float:
    """Set a line of a table; returns where the next one begins."""
    x = _LEFT
    for place, (cell, width) in enumerate(zip(cells, widths, strict=True)):
        box = paper.as_read(Box(x, y + 0.8, width - 2, _ROW - 1.6))
        paper.fit(box, cell, styles[min(place, 1)])
        x += width
    with paper.local_context(draw_color=RULE, line_width=0.2):
        paper.line(_LEFT, y + _ROW, _LEFT + _width(paper), y + _ROW)
    return y + _ROW


def _draw(paper: Paper, stage: Drawing, words: SheetWords) -> None:
    top = _begin(paper, words.stage_plan)
    mm_per_cm = min(_width(paper) / stage.width, (paper.h - _TOP - top) / stage.depth)
    width, depth = stage.width * mm_per_cm, stage.depth * mm_per_cm
    front = top + (stage.front - stage.top) * mm_per_cm
    paper.rect(_LEFT, top, width, depth)
    paper.line(_LEFT, front, _LEFT + width, front)
    paper.fit(Box(_LEFT, front + 1, width, 5), words.audience, _BESIDE)
    for one in (*stage.sources, *stage.musicians):
        middle = (_LEFT + (one.x - stage.left) * mm_per_cm, top + (one.y - stage.top) * mm_per_cm)
        _draw_one(paper, one, middle, mm_per_cm, has_face=one in stage.musicians)


def _draw_one(
    paper: Paper, one: Drawn, middle: tuple[float, float], mm_per_cm: float, *, has_face: bool
) -> None:
    (x, y), side, room = middle, _SQUARE_CM * mm_per_cm, one.room * mm_per_cm - 1
    with paper.rotation(-one.facing_deg, x, y):
        paper.rect(x - side / 2, y - side / 2, side, side)
        if has_face:
            paper.polygon([(x - side / 4, y + side / 2), (x + side / 4, y + side / 2), (x, y + side)])
    left = min(max(_LEFT, x + one.shift * mm_per_cm - room / 2), _LEFT + _width(paper) - room)
    paper.fit(Box(left, y - side / 2 - 6, room, 6), one.name, _STANDS)
    for row, source in enumerate(one.sources):
        line = _LINE_CM * mm_per_cm
        paper.fit(Box(left, y + side + row * line, room, line), source, _BESIDE)


def _width(paper: Paper) -> float:
    return float(paper.w) - 2 * _LEFT
