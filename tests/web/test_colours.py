"""The colours of each screen: a phone's as it is set, the desk's dark until light is chosen; every text far from its ground."""

import re

import pytest

from monreq.web.assets import STATIC
from tests.support.visitor import Page, Visitor

TEXTS_ON_GROUNDS = (
    ("text", "desk"),
    ("text", "desk-2"),
    ("text", "hatch-dark"),
    ("quiet", "desk"),
    ("quiet", "desk-2"),
    ("hand", "desk"),
    ("hand", "desk-2"),
    ("ink", "tape"),
)
EDGES_ON_GROUNDS = (("edge", "desk"), ("edge", "desk-2"), ("tape", "desk"), ("tape", "desk-2"))


def tokens(name: str) -> dict[str, str]:
    """Return the colours that a style sheet begins with."""
    head = (STATIC / name).read_text(encoding="utf-8").partition("}")[0]
    return dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", head))


def luminance(colour: str) -> float:
    """WCAG 2.2, relative luminance."""
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, contrast ratio."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def light_on(page: Page) -> str:
    """Return the media on which a page is light, and what the browser draws its own parts in."""
    scheme = re.search(r'<meta name="color-scheme" content="([^"]*)"', page.source)
    media = re.search(r'<link rel="stylesheet" href="[^"]*/light\.css[^"]*" media="([^"]*)"', page.source)
    assert scheme
    return f"{scheme[1]}: {media[1] if media else 'never'}"


DARK, LIGHT = "dark: never", "light: screen"
AS_SET = "dark light: screen and (prefers-color-scheme: light)"


@pytest.mark.parametrize("name", ["monreq.css", "light.css"])
def test_texts_and_edges_are_told_from_their_ground(name: str) -> None:
    """WCAG 2.2: texts 7 to 1 (1.4.6, AAA), edges of fields and of tape 3 to 1 (1.4.11)."""
    colours = tokens(name)

    faint = {pair for pair in TEXTS_ON_GROUNDS if contrast(colours[pair[0]], colours[pair[1]]) < 7}
    lost = {pair for pair in EDGES_ON_GROUNDS if contrast(colours[pair[0]], colours[pair[1]]) < 3}

    assert (faint, lost) == (set(), set())


def test_every_colour_of_the_dark_has_one_in_the_light() -> None:
    assert tokens("light.css").keys() == tokens("monreq.css").keys()


def test_a_desk_is_dark_and_a_phone_is_as_it_is_set(visitor: Visitor) -> None:
    found = [light_on(visitor.get(path)) for path in ("/desk", "/desk/codes", "/reckoning", "/mix/front")]

    assert found == [DARK, DARK, DARK, AS_SET]


def test_light_is_chosen_for_all_pages_of_the_desk_and_taken_back(visitor: Visitor) -> None:
    pages = ("/desk", "/desk/mix/front", "/reckoning", "/language?back=/desk", "/mix/front")

    back = visitor.do(visitor.get("/language?back=/desk/codes"), "light, for daylight")
    in_light = [light_on(visitor.get(path)) for path in pages]
    visitor.do(visitor.get("/language?back=/desk/codes"), "dark")

    assert light_on(back) == LIGHT
    assert in_light == [LIGHT, LIGHT, LIGHT, LIGHT, AS_SET]
    assert light_on(visitor.get("/desk")) == DARK


def test_a_phone_is_not_asked_for_colours(visitor: Visitor) -> None:
    assert "light, for daylight" not in visitor.get("/language?back=/mix/front").text


@pytest.mark.security
def test_other_colours_than_ours_are_not_kept_and_lead_to_no_other_site(visitor: Visitor) -> None:
    page = visitor.get("/language?back=/desk")
    fields = page.sent_by(page.button("dark"))

    answer = visitor.ask(
        "POST", "/language/colours", data={**fields, "back": "//elsewhere.test/", "colours": "pink"}
    )

    assert answer.location == "/"
    assert light_on(visitor.get("/desk")) == DARK
