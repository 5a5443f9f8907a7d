"""Each language in a real browser: it fits a narrow phone, runs the right way, and live pages stay in it."""

import pytest
from playwright.sync_api import ViewportSize, expect

from monreq.web.speech import LANGUAGES
from tests.browser.conftest import DESK, PHONE, OpenContext, enter
from tests.support.axe import violations
from tests.support.demo import Demo

NARROW = ViewportSize(width=320, height=568)
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"


@pytest.mark.parametrize("code", LANGUAGES)
def test_a_phone_in_a_language_fits_and_hears_of_changes_in_it(
    demo: Demo, open_context: OpenContext, code: str
) -> None:
    page = enter(open_context(NARROW, language=code), demo.links["Lead voice"])
    expect(page.locator("#line")).to_have_attribute("data-state", "live")

    lines = page.locator("#strip-lead small")
    earlier = lines.all_inner_texts()

    demo.ask("lead", "lead", 3)

    expect(lines).to_have_count(1)
    expect(lines).not_to_have_text(earlier[0] if earlier else "")
    said = lines.inner_text()
    page.reload()
    expect(page.locator("#strip-lead small")).to_have_text(said)
    assert page.locator("html").get_attribute("dir") == LANGUAGES[code].direction
    assert page.evaluate(SIDEWAYS) == 0
    assert violations(page, bars=True) == []


def test_a_phone_from_right_to_left_has_less_at_the_right_hand(demo: Demo, open_context: OpenContext) -> None:
    page = enter(open_context(PHONE, language="ar"), demo.links["Lead voice"])

    less, more = (page.locator(f"#strip-lead-{way}").bounding_box() for way in ("less", "more"))

    assert less
    assert more
    assert less["x"] > more["x"]


@pytest.mark.parametrize("code", ["ar", "de"])
def test_pages_of_the_desk_fit_in_the_longest_language_and_from_right_to_left(
    demo: Demo, open_context: OpenContext, code: str
) -> None:
    page = enter(open_context(DESK, language=code), demo.links["desk"])
    sideways = {}

    for path in ("/desk", "/desk/mix/accord", "/desk/prepare", "/desk/codes"):
        page.set_viewport_size(DESK)
        page.goto(f"http://127.0.0.1:{demo.port}{path}")
        page.set_viewport_size(NARROW)
        sideways[path] = page.evaluate(SIDEWAYS)

    assert sideways == dict.fromkeys(sideways, 0)
