"""The amount after the source: in its opened strip, in one tap, while the chosen amount stays chosen."""

import pytest
from playwright.sync_api import FloatRect, Locator, Page, ViewportSize, expect

from monreq.web.speech import LANGUAGES
from tests.browser.conftest import OpenContext, OpenDesk, OpenPhone, enter
from tests.browser.test_accessible import SIDEWAYS
from tests.browser.test_nothing_jumps import STOP, WATCH
from tests.support.axe import violations
from tests.support.demo import Demo
from tests.support.hands import Phone

NARROW = ViewportSize(width=320, height=640)
TWICE_AS_LARGE = ViewportSize(width=195, height=422)
"""What a phone of 390 x 844 has left at 200 % (WCAG 2.2, 1.4.4)."""
LEAST_PX, APART_PX = 48, 8  # the look's own: what a thumb hits, and what parts it from the next


def amounts(page: Page, strip: str) -> list[Locator]:
    return page.locator(f"#strip-{strip} .figures button").all()


def opened(phone: Phone, source: str) -> Phone:
    phone.unfold(source)
    return phone


@pytest.mark.parametrize("scripts", [True, False], ids=["script", "plain"])
def test_amount_is_tapped_after_the_source_and_taken_back(
    demo: Demo, open_phone: OpenPhone, *, scripts: bool
) -> None:
    phone = opened(open_phone("Bass", scripts=scripts), "Guitar")

    phone.ask("Guitar 6 dB more")

    phone.sees("Guitar", "+6, waiting")
    assert demo.row("bass", "guitar")["sum_db"] == 6
    expect(phone.page.get_by_label("some")).to_be_checked()
    phone.ask("take back Guitar +6")
    phone.sees("Guitar")
    assert demo.rows() == []


@pytest.mark.parametrize("scripts", [True, False], ids=["script", "plain"])
def test_chosen_amount_is_what_the_next_tap_sends(open_phone: OpenPhone, *, scripts: bool) -> None:
    phone = open_phone("Bass", scripts=scripts)
    phone.choose("a touch")
    opened(phone, "Guitar").ask("Guitar 6 dB less")
    phone.sees("Guitar", "-6, waiting")

    phone.ask("more Guitar")

    phone.sees("Guitar", "-5, waiting")
    phone.page.reload()
    expect(phone.page.get_by_label("a touch")).to_be_checked()


def test_whole_group_and_one_of_it_are_asked_for_by_amounts_of_their_own(
    open_phone: OpenPhone, open_desk: OpenDesk
) -> None:
    phone, desk = open_phone("Drums"), open_desk()

    phone.tape("Drums").click()
    phone.ask("Drums 6 dB less")
    phone.sees("Drums", "-6, waiting")
    phone.tape("Snare").click()
    phone.ask("Snare 1 dB more")

    phone.sees("Snare", "+1, waiting")
    desk.row("drums", "snare").shows("+1", "-12 to -11")


def test_amount_is_reached_by_keys_alone(open_phone: OpenPhone) -> None:
    phone = open_phone("Bass")
    phone.tape("Guitar").focus()

    for key in ("Enter", "Tab", "Tab", "Tab", "Enter"):
        phone.page.keyboard.press(key)

    phone.sees("Guitar", "-6, waiting")
    expect(phone.button("Guitar 6 dB less")).to_be_focused()


def test_opened_strip_stays_where_it_is_while_it_is_asked_for_and_answered(
    demo: Demo, open_phone: OpenPhone
) -> None:
    phone = opened(open_phone("Bass"), "Guitar")
    page = phone.page
    places = [f"#{one.get_attribute('id')}" for one in page.locator("#strips .strip:visible").all()]
    places += [f"#{one.get_attribute('id')}" for one in amounts(page, "guitar")]
    page.evaluate(WATCH, places)

    phone.ask("Guitar 6 dB more")
    phone.sees("Guitar", "+6, waiting")
    demo.answer(*demo.row("bass", "guitar")["requests"])
    expect(page.locator("#strip-guitar")).to_contain_text("done")

    shifted, frames = page.evaluate(STOP)
    assert frames > 1
    assert shifted == 0
    assert len(places) > len(amounts(page, "guitar")) == 6


@pytest.mark.parametrize("code", LANGUAGES)
def test_amounts_are_large_and_apart_and_nothing_scrolls_sideways(
    demo: Demo, open_context: OpenContext, code: str
) -> None:
    page = enter(open_context(NARROW, language=code), demo.links["Drums"])
    for place in ("#strip-kit-tape", "#strip-kick-tape", "#strip-guitar-tape"):
        page.locator(f"{place} > summary").click()

    for size in (NARROW, TWICE_AS_LARGE):
        page.set_viewport_size(size)
        for strip in ("kit", "kick", "guitar"):
            boxes = _boxes(page.locator(f"#strip-{strip} button:visible"))
            steps = _boxes(page.locator(f"#strip-{strip} .figures button"))
            assert len(steps) == 6
            assert min(min(box["width"], box["height"]) for box in steps) >= LEAST_PX
            apart = [_apart(step, other) for step in steps for other in boxes if other != step]
            assert len(apart) == 6 * (len(boxes) - 1)
            assert min(apart) >= APART_PX
        assert page.evaluate(SIDEWAYS) == 0


def _boxes(places: Locator) -> list[FloatRect]:
    boxes: list[FloatRect] = places.evaluate_all(
        "(all) => all.map((one) => one.getBoundingClientRect()).map(({ x, y, width, height }) => ({ x, y, width, height }))"
    )
    return boxes


def _apart(one: FloatRect, other: FloatRect) -> float:
    """How far two boxes are apart across or down, whichever is more; below nought they lie over one another."""
    across = max(one["x"], other["x"]) - min(one["x"] + one["width"], other["x"] + other["width"])
    down = max(one["y"], other["y"]) - min(one["y"] + one["height"], other["y"] + other["height"])
    return round(max(across, down), 3)


@pytest.mark.parametrize("scheme", ["dark", "light"])
def test_opened_strips_keep_the_rules(demo: Demo, open_phone: OpenPhone, scheme: str) -> None:
    phone = open_phone("Drums")
    phone.page.emulate_media(color_scheme="light" if scheme == "light" else "dark")
    phone.tape("Drums").click()
    opened(phone, "Guitar").ask("Guitar 3 dB less")
    phone.sees("Guitar", "-3, waiting")

    assert violations(phone.page, bars=True) == []
    assert demo.row("drums", "guitar")["sum_db"] == -3
