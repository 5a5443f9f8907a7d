"""The printed card: its codes can be read, its words are there, and no name breaks it."""

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from monreq.printed import card_words
from monreq.printing import cards, qr
from monreq.printing.card import Card, Wifi
from monreq.printing.paper import PaperSize
from monreq.printing.words import Reading
from tests.support.codes import codes_on, in_poor_light, page_pictures, page_texts, places_of

WIFI = Wifi("Stage 2", "twenty wedges")
LARGEST = Wifi(";" * 32, "\\" * 63, hidden=True)  # its code has the most modules
WORDS = card_words()
ENGLISH = Reading()
JOIN = "WIFI:T:WPA;S:Stage 2;P:twenty wedges;;"
PIXELS_PER_MM = 6.0
MIXES = ("Lead voice", "Bass", "Drums", "Keys", "Guitar", "Horns", "Side fill")


def address(number: int) -> str:
    return f"http://192.168.50.10:8080/j/k3f9-m{number}.8fJk2L0oIl9PqRsTuVwXyZ"


def cards_pdf(
    ones: Sequence[Card], wifi: Wifi | None, *, size: PaperSize = "A4", reading: Reading = ENGLISH
) -> bytes:
    return cards.cards_pdf(ones, wifi, WORDS, reading, size=size)


def card(number: int = 1, mix_name: str = "Lead voice", *musicians: str) -> Card:
    return Card("Harbour night", mix_name, "wedge, aux 1", musicians or ("Anna",), address(number))


def codes_of(page: Image.Image) -> list[str]:
    return [code.text for code in codes_on(page, PIXELS_PER_MM)]


@pytest.mark.parametrize("size", ["A4", "letter"])
def test_cards_carry_both_codes_of_every_card_in_order(size: PaperSize) -> None:
    pdf = cards_pdf([card(number, mix) for number, mix in enumerate(MIXES)], WIFI, size=size)

    pages = page_pictures(pdf, PIXELS_PER_MM)

    assert [codes_of(page) for page in pages] == [
        [JOIN, address(0), JOIN, address(1)],
        [JOIN, address(2), JOIN, address(3)],
        [JOIN, address(4), JOIN, address(5)],
        [JOIN, address(6)],
    ]


def test_codes_are_read_in_poor_light_and_at_low_resolution() -> None:
    pdf = cards_pdf([card()], WIFI)

    page = page_pictures(pdf, 2.5)[0].crop((0, 0, 525, 371))

    assert [code.text for code in codes_on(in_poor_light(page), 2.5)] == [JOIN, address(1)]


@pytest.mark.external
@pytest.mark.parametrize("size", ["A4", "letter"])
def test_codes_are_printed_large_enough_for_an_arms_length(size: PaperSize) -> None:
    """A symbol without margin is a tenth of the reading distance wide: 55 mm for 55 cm.

    Source: common practice only, not in ISO/IEC 18004 (delivr.com/faq/1289,
    qrcodecreator.io/resources/size-guide).
    """
    page = page_pictures(cards_pdf([card()], WIFI, size=size), PIXELS_PER_MM)[0]

    sides = [code.side for code in codes_on(page, PIXELS_PER_MM)]

    assert sides == pytest.approx([cards.CODE_SIDE_MM] * 2, abs=0.5)
    assert min(sides) >= 55


@pytest.mark.parametrize(
    ("size", "wifi"),
    [
        ("A4", Wifi("S", "")),  # the coarsest code
        ("A4", WIFI),
        ("A4", LARGEST),
        ("letter", LARGEST),
    ],
)
def test_quiet_zone_of_every_code_stays_clear(size: PaperSize, wifi: Wifi) -> None:
    crowded = card(1, "Lead voice " * 9, *("Benedikta Sommerfeld" for _ in range(9)))
    page = page_pictures(cards_pdf([crowded, crowded], wifi, size=size), PIXELS_PER_MM)[0]

    codes = codes_on(page, PIXELS_PER_MM)

    assert len(codes) == 4
    for code in codes:
        assert is_clear_around(page, code.x, code.y, len(qr.modules(code.text)))


def is_clear_around(page: Image.Image, x: float, y: float, modules: int) -> bool:
    """Looks at the symbol and its quiet zone; only the symbol itself may be dark."""
    slack = 0.6
    side = cards.CODE_SIDE_MM
    zone = qr.QUIET_ZONE * side / modules - slack
    around = tuple(
        round(place * PIXELS_PER_MM) for place in (x - zone, y - zone, x + side + zone, y + side + zone)
    )
    picture = page.crop((around[0], around[1], around[2], around[3]))
    inner = round((zone - slack) * PIXELS_PER_MM), round((zone + side + slack) * PIXELS_PER_MM)
    picture.paste(255, (inner[0], inner[0], inner[1], inner[1]))
    return picture.getextrema() == (255, 255)


def test_cards_say_in_words_what_the_codes_say() -> None:
    text = page_texts(cards_pdf([card(1, "Lead voice", "Anna", "Олег", "田中花子")], WIFI))[0]

    flat = " ".join(text.split())
    assert "Lead voice" in flat
    assert "Anna, Олег, 田中花子" in flat
    assert "Harbour night" in flat
    assert "wedge, aux 1" in flat
    assert "Network Stage 2" in flat
    assert "Password twenty wedges" in flat
    assert address(1) in flat.replace(" ", "")
    assert WORDS.caution in flat
    for line in (WORDS.scan_both, *WORDS.phone_lines):
        assert line in flat


@pytest.mark.parametrize("size", ["A4", "letter"])
@pytest.mark.parametrize("wifi", [WIFI, None])
def test_phone_lines_end_above_the_caution(size: PaperSize, wifi: Wifi | None) -> None:
    pdf = cards_pdf([card(1), card(2)], wifi, size=size)

    ends = places_of(WORDS.phone_lines[-1][-10:], pdf)
    titles = places_of(WORDS.caution_title, pdf)

    assert len(ends) == len(titles) == 2
    for (end, _), (_, title) in zip(ends, titles, strict=True):
        assert end - title > 4


def test_cards_without_wifi_tell_whom_to_ask() -> None:
    pdf = cards_pdf([card(1), card(2)], None)

    flat = " ".join(page_texts(pdf)[0].split())
    assert codes_of(page_pictures(pdf, PIXELS_PER_MM)[0]) == [address(1), address(2)]
    assert flat.count(WORDS.ask_for_wifi) == 2
    assert flat.count(WORDS.scan_second) == 2
    assert WORDS.scan_both not in flat
    assert WORDS.network not in flat


def test_cards_of_an_open_network_say_that_no_password_is_needed() -> None:
    flat = " ".join(page_texts(cards_pdf([card()], Wifi("Stage", "")))[0].split())

    assert f"{WORDS.password} {WORDS.no_password}" in flat


@pytest.mark.parametrize(
    "name",
    [
        "سارة بنت علي",
        "יעל כהן (bass)",
        "अनुष्का श\u200dर्मा",
        "สมชาย ใจดี",
        "田中 花子",
        "👩🏽\u200d🎤 ❤\ufe0f 1\ufe0f\u20e3",
        "<b>Anna</b> {nb} **x** __y__",
        "Zoë\x00\x1b\u202e\u2066",
        "𒀀𒈙",
        "a\ud800",
        "",
        " ",
        "W" * 1000,  # all three: far longer than a card holds
        "word " * 200,
        "混" * 1000,
    ],
)
def test_cards_take_any_name(name: str) -> None:
    hard = Card(name, name, name, (name, name), address(1))

    pdf = cards_pdf([hard, card(2, "Bass", "Ben")], WIFI)

    pages = page_pictures(pdf, PIXELS_PER_MM)
    assert [codes_of(page) for page in pages] == [[JOIN, address(1), JOIN, address(2)]]
    assert "Ben" in page_texts(pdf)[0]


@settings(max_examples=15, deadline=None)
@given(st.text(max_size=60))
def test_cards_take_whatever_is_typed(name: str) -> None:
    hard = Card(name, name, name, (name,), address(1))

    pages = page_pictures(cards_pdf([hard], WIFI), 3.0)

    assert [code.text for code in codes_on(pages[0], 3.0)] == [JOIN, address(1)]


def test_seven_cards_are_a_small_file() -> None:
    players = ("Anna", "Олег", "田中花子", "김민수", "سارة", "अनुष्का", "สมชาย")

    pdf = cards_pdf([card(n, MIXES[n], player) for n, player in enumerate(players)], WIFI)

    assert len(pdf) < 500_000


def test_cards_printed_twice_are_the_same_file() -> None:
    assert cards_pdf([card()], WIFI) == cards_pdf([card()], WIFI)


def test_cards_of_no_mix_are_refused() -> None:
    with pytest.raises(ValueError, match="no cards"):
        cards_pdf([], WIFI)


def test_cards_refuse_an_address_that_no_code_holds() -> None:
    too_long = Card("Harbour night", "Bass", "", ("Ben",), "http://x/" + "a" * 2400)

    with pytest.raises(qr.TextTooLongError):
        cards_pdf([too_long], WIFI)
