"""On the phone no word is broken within itself, in any language that parts its words by spaces."""

import pytest
from playwright.sync_api import ViewportSize, expect

from monreq.web.speech import LANGUAGES
from tests.browser.conftest import OpenContext, enter
from tests.support.demo import Demo

SMALL, NARROW = ViewportSize(width=360, height=740), ViewportSize(width=320, height=568)
BUTTONS = "#strips button, .amounts label, .phone nav > button, .call > summary"
WITH_NAMES = f"{BUTTONS}, #strips .tape b"
PARTED = [code for code in LANGUAGES if code != "ja"]

# A word is broken where its letters stand in more than one line.
BROKEN = """(places) => [...document.querySelectorAll(places)].filter((one) => one.checkVisibility()).flatMap((one) => {
  const texts = document.createTreeWalker(one, NodeFilter.SHOW_TEXT), broken = [];
  for (let text = texts.nextNode(); text; text = texts.nextNode()) {
    for (const word of text.data.matchAll(/[^\\s-]+/g)) {
      const range = document.createRange();
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      const lines = new Set([...range.getClientRects()].map((rect) => Math.round(rect.top)));
      if (lines.size > 1) broken.push(word[0]);
    }
  }
  return broken;
})"""


@pytest.mark.parametrize("code", PARTED)
def test_no_word_of_a_phone_is_broken(demo: Demo, open_context: OpenContext, code: str) -> None:
    page = enter(open_context(SMALL, language=code), demo.links["Accordion"])
    demo.ask("accord", "accord", 3)
    demo.ask("accord", "lead", -3)

    expect(page.locator("#strips .take-back")).to_have_count(2)

    assert page.evaluate(BROKEN, WITH_NAMES) == []
    page.set_viewport_size(NARROW)
    assert page.evaluate(BROKEN, WITH_NAMES) == []


@pytest.mark.parametrize("code", PARTED)
def test_no_word_of_an_opened_strip_is_broken(demo: Demo, open_context: OpenContext, code: str) -> None:
    page = enter(open_context(NARROW, language=code), demo.links["Drums"])
    for place in ("#strip-kit-tape", "#strip-kick-tape", "#strip-guitar-tape", "#strip-kit-sounds"):
        page.locator(f"{place} > summary").click()
    opened = page.locator(".opened button:visible")
    expect(opened).to_have_count(6 + 1 + 6 + 2 * (6 + 3 + 6))

    assert page.evaluate(BROKEN, ".opened button, .sounds > summary") == []
