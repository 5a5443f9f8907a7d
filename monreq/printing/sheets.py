"""Sheets as a PDF: tables of any script on as many pages as they take, and the stage plan drawn."""

from collections.abc import Iterable, Sequence
from typing import Protocol

from monreq.printing.paper import GREY, RULE, Box, Paper, PaperSize, Style

_LEFT = _TOP = 14.0
_ROW = 7.5
_TITLE = Style(18, 11, bold=True)
_ABOUT = Style(10, 8, grey=GREY)
_HEAD = Style(9, 6, grey=GREY)
_NAME = Style(11, 7, bold=True)
_CELL = Style(11, 7)
_FIRST_SHARE = 1.7  # chosen: names are longer than figures
_SQUARE_CM = 44


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
    sheets: Sequence[Sheet], stage: Drawing | None, stage_title: str, *, size: PaperSize = "A4"
) -> bytes:
    """Print sheets, each from a new page on.

    Args:
        sheets: The tables.
        stage: The stage plan, printed behind the first of them; None if nobody was placed.
        stage_title: What stands above it.
        size: The paper in the printer.
    """
    text = "".join(_texts(sheets, stage)) + stage_title
    with Paper(size, "Sheets", text) as paper:
        for number, sheet in enumerate(sheets):
            _print(paper, sheet)
            if number == 0 and stage is not None:
                _draw(paper, stage, stage_title)
        return bytes(paper.output())


def _texts(sheets: Sequence[Sheet], stage: Drawing | None) -> Iterable[str]:
    for sheet in sheets:
        yield from (sheet.title, *sheet.about, *sheet.head)
        yield from (cell for row in sheet.rows for cell in row)
    for one in (*stage.musicians, *stage.sources) if stage is not None else ():
        yield from (one.name, *one.sources)


def _print(paper: Paper, sheet: Sheet) -> None:
    y = _begin(paper, sheet.title)
    for line in sheet.about:
        y += paper.fit(Box(_LEFT, y, _width(paper), 12), line, _ABOUT) + 1
    y = _head(paper, sheet, y + 2)
    for row in sheet.rows:
        if y + _ROW > paper.h - _TOP:
            y = _head(paper, sheet, _begin(paper, sheet.title))
        _row(paper, row, y, (_NAME, _CELL))
        y += _ROW


def _begin(paper: Paper, title: str) -> float:
    paper.add_page()
    return _TOP + paper.fit(Box(_LEFT, _TOP, _width(paper), 12), title, _TITLE) + 2


def _head(paper: Paper, sheet: Sheet, y: float) -> float:
    _row(paper, sheet.head, y, (_HEAD, _HEAD))
    return y + _ROW


def _row(paper: Paper, cells: Sequence[str], y: float, styles: tuple[Style, Style]) -> None:
    share = _width(paper) / (_FIRST_SHARE + len(cells) - 1)
    x = _LEFT
    for place, cell in enumerate(cells):
        width = share * (_FIRST_SHARE if place == 0 else 1)
        paper.fit(Box(x, y + 0.8, width - 2, _ROW - 1.6), cell, styles[min(place, 1)])
        x += width
    with paper.local_context(draw_color=RULE, line_width=0.2):
        paper.line(_LEFT, y + _ROW, _LEFT + _width(paper), y + _ROW)


def _draw(paper: Paper, stage: Drawing, title: str) -> None:
    top = _begin(paper, title)
    mm_per_cm = min(_width(paper) / stage.width, (paper.h - _TOP - top) / stage.depth)

    def placed(x: float, y: float) -> tuple[float, float]:
        return _LEFT + (x - stage.left) * mm_per_cm, top + (y - stage.top) * mm_per_cm

    paper.rect(_LEFT, top, stage.width * mm_per_cm, stage.depth * mm_per_cm)
    paper.line(*placed(stage.left, stage.front), *placed(stage.left + stage.width, stage.front))
    for one in (*stage.musicians, *stage.sources):
        x, y = placed(one.x, one.y)
        side = _SQUARE_CM * mm_per_cm
        with paper.rotation(-one.facing_deg, x, y):
            paper.rect(x - side / 2, y - side / 2, side, side)
            paper.polygon([(x - side / 4, y + side / 2), (x + side / 4, y + side / 2), (x, y + side)])
        paper.fit(Box(x - 22, y - side / 2 - 6, 44, 5), one.name, Style(10, 6, bold=True, align="C"))
        for row, source in enumerate(one.sources):
            below = y + side + 1 + 4.2 * row
            paper.fit(Box(x - 22, below, 44, 4), source, Style(8, 6, grey=GREY, align="C"))


def _width(paper: Paper) -> float:
    return float(paper.w) - 2 * _LEFT
