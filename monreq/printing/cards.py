"""The cards handed to musicians: one code to join the Wi-Fi, one to open their mix."""

from collections.abc import Sequence
from dataclasses import astuple, dataclass

from monreq.printing import qr
from monreq.printing.card import Card, Wifi
from monreq.printing.paper import BLACK, GREY, Box, Paper, PaperSize, Style
from monreq.printing.words import CardWords, Reading

CODE_SIDE_MM = 58.0
"""Side of a printed symbol without its quiet zone, read from 58 cm: an arm's length.

References:
    A symbol is read from about ten times its side: common practice, not in ISO/IEC 18004
    (delivr.com/faq/1289, qrcodecreator.io/resources/size-guide).
"""

CARDS_PER_PAGE = 2

# Places in a card are measured from its top left corner, for half a letter page. [mm]
_HEIGHT = 139.7
_LEFT = 11.0
_SECOND = _LEFT + CODE_SIDE_MM + 12
_THIRD = _SECOND + CODE_SIDE_MM + 11.5
_LABEL_Y = 34.5
_CODES_Y = 41.5
_BOTTOM = 131.5
_CAUTION_Y = 91.5
_ROW_WIDTH = CODE_SIDE_MM + 9


def cards_pdf(
    cards: Sequence[Card],
    wifi: Wifi | None,
    words: CardWords,
    reading: Reading,
    *,
    size: PaperSize = "A4",
) -> bytes:
    """Prints cards, two on a portrait page, with a line to cut along between them.

    Args:
        cards: One for each musician or mix, in the order wanted.
        wifi: Written out and coded on every card; without it the card says whom to ask.
        words: What stands on every card.
        reading: How it is read; from the right, the card is mirrored.
        size: The paper in the printer.

    Raises:
        monreq.printing.qr.TextTooLongError: An address or the network fits into no code.
    """
    if not cards:
        message = "there are no cards to print"
        raise ValueError(message)
    with Paper(size, words.title, _all_text(cards, wifi, words), reading) as paper:
        for number, card in enumerate(cards):
            row = number % CARDS_PER_PAGE
            if row == 0:
                _new_page(paper)
            _draw(_place(paper, row, words), card, wifi)
        return bytes(paper.output())


@dataclass(frozen=True, slots=True)
class _Place:
    """Where on a page one card is drawn."""

    paper: Paper
    top: float
    words: CardWords

    def fit(self, box: Box, text: str, style: Style) -> float:
        """Sets a text and tells where it ends."""
        return box.y + self.paper.fit(self._shift(box), text, style)

    def tape(self, box: Box) -> None:
        self.paper.tape(self._shift(box))

    def code(self, symbol: qr.Modules, x: float, y: float) -> None:
        place = self._shift(Box(x, y, CODE_SIDE_MM, CODE_SIDE_MM))
        self.paper.code(symbol, place.x, place.y, CODE_SIDE_MM)

    def frame(self, box: Box) -> None:
        with self.paper.local_context(draw_color=BLACK, line_width=0.4):
            self.paper.rect(*self._shift(box))

    def third_width(self) -> float:
        return self.paper.w - _LEFT - _THIRD

    def _shift(self, box: Box) -> Box:
        return self.paper.as_read(box._replace(y=box.y + self.top))


def _place(paper: Paper, row: int, words: CardWords) -> _Place:
    height = paper.h / CARDS_PER_PAGE
    return _Place(paper, row * height + (height - _HEIGHT) / 2, words)


def _all_text(cards: Sequence[Card], wifi: Wifi | None, words: CardWords) -> str:
    texts = [*words.phone_lines, *(one for one in astuple(words) if isinstance(one, str))]
    texts += [wifi.network, wifi.password] if wifi else []
    for card in cards:
        texts += [card.show_name, card.mix_name, card.detail, *card.musicians, card.url, card.short_code]
    return "".join(texts)


def _new_page(paper: Paper) -> None:
    paper.add_page()
    for row in range(1, CARDS_PER_PAGE):
        y = row * paper.h / CARDS_PER_PAGE
        paper.dashes(0, y, paper.w, y)


def _draw(place: _Place, card: Card, wifi: Wifi | None) -> None:
    opens = qr.modules(card.url)
    joins = qr.modules(_join_text(wifi)) if wifi else None
    top = _CODES_Y + max(_quiet_zone(symbol) for symbol in (opens, joins) if symbol)
    below = top + CODE_SIDE_MM
    _draw_header(place, card)
    _draw_label(place, _LEFT, "1", place.words.join)
    _draw_label(place, _SECOND, "2", place.words.open)
    if wifi and joins:
        place.code(joins, _LEFT, top)
        _draw_network(place, below + _quiet_zone(joins), wifi)
    else:
        _draw_no_wifi(place, top)
    place.code(opens, _SECOND, top)
    _draw_address(place, below + _quiet_zone(opens), card)
    _draw_phone_lines(place, place.words.scan_both if wifi else place.words.scan_second)
    _draw_caution(place)


def _join_text(wifi: Wifi) -> str:
    return qr.wifi_join_text(wifi.network, wifi.password, hidden=wifi.hidden)


def _quiet_zone(symbol: qr.Modules) -> float:
    return qr.QUIET_ZONE * CODE_SIDE_MM / len(symbol)


def _draw_header(place: _Place, card: Card) -> None:
    width = _THIRD - _LEFT - 6
    place.tape(Box(_LEFT, 8.5, width, 15.5))
    name = Style(size=28, smallest=11, bold=True)
    place.fit(Box(_LEFT + 4, 9.3, width - 8, 14.2), card.mix_name, name)
    players = Style(size=14, smallest=8)
    place.fit(Box(_LEFT, 25, width, 8), place.paper.reading.comma.join(card.musicians), players)
    show = Style(size=12, smallest=7, bold=True)
    end = place.fit(Box(_THIRD, 9.5, place.third_width(), 14), card.show_name, show)
    detail = Style(size=10, smallest=7, grey=GREY)
    place.fit(Box(_THIRD, end + 0.5, place.third_width(), 31 - end), card.detail, detail)


def _draw_label(place: _Place, x: float, number: str, words: str) -> None:
    style = Style(size=14, smallest=10, bold=True)
    place.fit(Box(x, _LABEL_Y, 6, 7), number, style)
    place.fit(Box(x + 6, _LABEL_Y, CODE_SIDE_MM - 6, 7), words, style)


def _draw_network(place: _Place, top: float, wifi: Wifi) -> None:
    height = (_BOTTOM - top) / 2
    exact = Style(size=12, smallest=5, bold=True, is_exact=True)
    _draw_row(place, Box(_LEFT, top, _ROW_WIDTH, height), place.words.network, wifi.network, exact)
    below = Box(_LEFT, top + height, _ROW_WIDTH, height)
    if wifi.password:
        _draw_row(place, below, place.words.password, wifi.password, exact)
    else:
        note = Style(size=11, smallest=5, grey=GREY)
        _draw_row(place, below, place.words.password, place.words.no_password, note)


def _draw_row(place: _Place, box: Box, label: str, value: str, style: Style) -> None:
    aside = 17
    place.fit(Box(box.x, box.y + 0.9, aside - 1.5, 5), label, Style(size=9, smallest=6, grey=GREY))
    beside = box._replace(x=box.x + aside, width=box.width - aside)
    place.fit(beside, value, style)


def _draw_no_wifi(place: _Place, top: float) -> None:
    place.frame(Box(_LEFT, top, CODE_SIDE_MM, CODE_SIDE_MM))
    style = Style(size=20, smallest=12, bold=True, align="middle")
    place.fit(Box(_LEFT + 5, top + 15, CODE_SIDE_MM - 10, 40), place.words.ask_for_wifi, style)


def _draw_address(place: _Place, top: float, card: Card) -> None:
    words = place.words.type_code if card.short_code else place.words.type_address
    end = place.fit(Box(_SECOND, top, _ROW_WIDTH, 5), words, Style(9, 7, grey=GREY))
    address = card.url.partition("/j/")[0] if card.short_code else card.url
    half = (_BOTTOM - end) / (2 if card.short_code else 1)
    place.fit(Box(_SECOND, end, _ROW_WIDTH, half), address, Style(10, 4, is_exact=True))
    code = Style(size=16, smallest=8, bold=True, is_exact=True)
    place.fit(Box(_SECOND, end + half, _ROW_WIDTH, half), card.short_code, code)


def _draw_phone_lines(place: _Place, first: str) -> None:
    y = _LABEL_Y + 1
    for line in (first, *place.words.phone_lines):
        box = Box(_THIRD, y, place.third_width(), _CAUTION_Y - 2 - y)
        y = 2.5 + place.fit(box, line, Style(size=10, smallest=7))


def _draw_caution(place: _Place) -> None:
    width = place.third_width()
    place.frame(Box(_THIRD, _CAUTION_Y, width, _BOTTOM - _CAUTION_Y))
    title = Style(size=12, smallest=9, bold=True)
    end = place.fit(Box(_THIRD + 3, _CAUTION_Y + 2, width - 6, 6.5), place.words.caution_title, title)
    text = Style(size=10.5, smallest=8)
    place.fit(Box(_THIRD + 3, end + 0.5, width - 6, _BOTTOM - 2 - end), place.words.caution, text)
