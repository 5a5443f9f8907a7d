"""Cards in every language: nothing that is said is cut, and where lines run from the right the card does too."""

from dataclasses import astuple, replace

import pytest
from flask import Flask
from flask_babel import Babel

from monreq.printed import card_words, reading
from monreq.printing.card import Card, Wifi
from monreq.printing.cards import cards_pdf
from monreq.web.languages import CATALOGUES, speaking
from monreq.web.speech import LANGUAGES
from tests.support.codes import codes_on, page_pictures, page_texts

PIXELS_PER_MM = 4.0
ELLIPSIS = "\N{HORIZONTAL ELLIPSIS}"
CARD = Card(
    "Harbour night", "Bass", "wedge, aux 1", ("Ben",), "http://192.168.50.10:8080/j/k3f9-m1.8fJk2L", "4711"
)


@pytest.fixture(scope="module")
def app() -> Flask:
    app = Flask("cards")
    app.config["BABEL_TRANSLATION_DIRECTORIES"] = str(CATALOGUES)
    Babel(app)
    return app


def printed(app: Flask, code: str, wifi: Wifi | None) -> bytes:
    with speaking(app, code):
        return cards_pdf([CARD], wifi, card_words(), reading(), size="letter")


@pytest.mark.parametrize("wifi", [Wifi("Stage 2", ""), Wifi("Stage 2", "twenty wedges"), None])
@pytest.mark.parametrize("code", LANGUAGES)
def test_no_word_of_a_card_is_cut(app: Flask, code: str, wifi: Wifi | None) -> None:
    text = page_texts(printed(app, code, wifi))[0]

    assert "Ben" in text
    assert ELLIPSIS not in text
    assert "..." not in text


@pytest.mark.parametrize("code", [code for code in LANGUAGES if code != "en"])
def test_cards_are_said_in_the_language_at_hand(app: Flask, code: str) -> None:
    english = astuple(card_words())

    with speaking(app, code):
        said = astuple(card_words())

    assert [one for one in said if one in english] == []


def test_musicians_are_parted_by_the_comma_of_the_language(app: Flask) -> None:
    shared = replace(CARD, musicians=("Ben", "Zoe"))

    with speaking(app, "ja"):
        text = page_texts(cards_pdf([shared], None, card_words(), reading()))[0]

    assert "Ben、Zoe" in text


def test_codes_stand_in_reading_order(app: Flask) -> None:
    first = {}
    for code in ("en", "ar"):
        page = page_pictures(printed(app, code, Wifi("Stage 2", "twenty wedges")), PIXELS_PER_MM)[0]
        found = sorted(codes_on(page, PIXELS_PER_MM), key=lambda one: one.x)
        first[code] = found[0].text.startswith("WIFI:"), found[-1].text.startswith("WIFI:")

    assert first == {"en": (True, False), "ar": (False, True)}
