"""A phone's pages on narrow screens and with large text: nothing to scroll sideways, room for every thumb."""

import io
from collections.abc import Iterator

import pytest
from PIL import Image, ImageChops
from playwright.sync_api import FloatRect, Locator, Page, ViewportSize, expect

from tests.browser.conftest import PHONE, OpenContext, OpenPhone
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.hands import Phone

NARROW = ViewportSize(width=320, height=568)
TWICE_AS_LARGE = ViewportSize(width=195, height=422)
"""What a phone of 390 x 844 has left when everything on it is zoomed to 200 %."""
SIZES = {"phone": PHONE, "narrow": NARROW, "zoomed": TWICE_AS_LARGE}

SMALLEST = 48
"""Chosen: what a thumb hits in the dark; WCAG 2.2, 2.5.5 (enhanced) asks for 44 by 44. [CSS px]"""

# What can be pressed, with the bar that it stands in: bars lie over the strips, which scroll below them; what is
# held scrolls within its own; and the
# choices of a call lie over all. Of a tape only what the button laid over its end leaves of it can be pressed.
TARGETS = """() => {
  const bar = (one) => ["nav .call-choices", "nav .held", "nav", ".amounts"].find((bar) => one.closest(bar)) ?? "";
  const left = (one) => {
    const box = one.getBoundingClientRect();
    const laid = one.matches(".tape") && one.closest(".strip").querySelector(":scope > .take-back");
    return laid ? Math.min(box.width, laid.getBoundingClientRect().x - box.x) : box.width;
  };
  return Array.from(document.querySelectorAll("button, summary, label, a"))
    .filter((one) => one.checkVisibility() && one.getClientRects().length)
    .map((one) => {
      const { x, y, height } = one.getBoundingClientRect();
      const name = one.getAttribute("aria-label") ?? one.innerText;
      return { name, bar: bar(one), x, y, width: left(one), height };
    });
}"""
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
BEYOND = """() => Array.from(document.querySelectorAll("body *"))
  .filter((one) => one.checkVisibility() && !one.closest(".sr"))
  .filter((one) => getComputedStyle(one).position !== "absolute")
  .filter((one) => one.getBoundingClientRect().right > innerWidth + 0.5)
  .map((one) => one.outerHTML.slice(0, 80))"""


def busy_phone(demo: Demo, open_phone: OpenPhone, mix: str = "Accordion", you: str | None = None) -> Phone:
    """A phone that has something everywhere: requests, a call, an open strip, the calls unfolded."""
    phone = open_phone(mix, you)
    phone.ask("more Accordion")
    phone.ask("whole mix softer")
    phone.call("nothing")
    phone.unfold("Kick")
    phone.page.get_by_text("Call the desk").click()
    expect(phone.calls).to_contain_text("Desk called: nothing")
    phone.sees("Accordion", "+3, waiting")
    assert len(demo.rows()) == 3
    return phone


@pytest.mark.parametrize(("mix", "you"), [("Accordion", None), ("Horns", "Trumpet")])
def test_mix_fits_and_has_room_for_a_thumb(
    demo: Demo, open_phone: OpenPhone, mix: str, you: str | None
) -> None:
    page = busy_phone(demo, open_phone, mix, you).page

    for name, size in SIZES.items():
        page.set_viewport_size(size)
        targets = page.evaluate(TARGETS)

        assert page.evaluate(SIDEWAYS) == 0, name
        assert page.evaluate(BEYOND) == [], name
        assert len(targets) > 30, name
        assert list(_too_small(targets)) == [], name
        assert list(_overlapping(targets)) == [], name


def test_every_button_can_be_reached(demo: Demo, open_phone: OpenPhone) -> None:
    page = busy_phone(demo, open_phone).page

    for name, size in SIZES.items():
        page.set_viewport_size(size)
        reached = _reach(page.locator(".call button:visible, .call summary:visible"))
        page.get_by_text("Call the desk").click()
        reached += _reach(page.locator("#ask button:visible:enabled, #ask summary:visible"))
        page.get_by_text("Call the desk").click()

        assert reached > 30, name


def test_other_pages_of_a_phone_fit(demo: Demo, open_context: OpenContext) -> None:
    page = open_context().new_page()

    for address in (demo.links["Accordion"], demo.links["Horns"], f"http://desk.test:{demo.port}/"):
        page.goto(address)
        for size in SIZES.values():
            page.set_viewport_size(size)

            assert page.evaluate(SIDEWAYS) == 0, address
            assert page.evaluate(BEYOND) == [], address
            assert list(_too_small(page.evaluate(TARGETS))) == [], address


def test_refusal_fits(demo: Demo, open_context: OpenContext, watch: Watch) -> None:
    watch.expect("the server responded with a status of 401")
    page = open_context().new_page()

    page.goto(f"http://desk.test:{demo.port}/mix/bass")

    expect(page.get_by_role("heading")).to_have_text("Scan your card")
    for name, size in SIZES.items():
        page.set_viewport_size(size)
        assert page.evaluate(SIDEWAYS) == 0, name
        assert page.evaluate(BEYOND) == [], name


def test_keyboard_focus_is_seen_on_everything(demo: Demo, open_phone: OpenPhone) -> None:
    phone = busy_phone(demo, open_phone)
    page = phone.page
    page.emulate_media(reduced_motion="reduce")
    page.locator("h1").click()
    unseen: list[str] = []
    walked = 0

    for name in _tab_through(page):
        walked += 1
        if _pixels_that_tell_focus(page) < 100:
            unseen.append(name)

    assert walked > 35
    assert unseen == []


def _reach(buttons: Locator) -> int:
    """See that each could be pressed where it lies; returns how many there are."""
    for place in range(buttons.count()):
        buttons.nth(place).click(trial=True)
    return buttons.count()


def _too_small(targets: list[dict[str, object]]) -> Iterator[str]:
    for one in targets:
        if _number(one["width"]) < SMALLEST or _number(one["height"]) < SMALLEST:
            yield f"{one['name']}: {one['width']} x {one['height']}"


def _overlapping(targets: list[dict[str, object]]) -> Iterator[str]:
    for place, one in enumerate(targets):
        for other in targets[place + 1 :]:
            if one["bar"] == other["bar"] and _overlap(one, other):
                yield f"{one['name']} and {other['name']}"


def _overlap(one: dict[str, object], other: dict[str, object]) -> bool:
    return all(
        _number(one[at]) + _number(one[size]) > _number(other[at]) + 0.5
        and _number(other[at]) + _number(other[size]) > _number(one[at]) + 0.5
        for at, size in (("x", "width"), ("y", "height"))
    )


def _number(value: object) -> float:
    assert isinstance(value, int | float)
    return value


def _tab_through(page: Page) -> Iterator[str]:
    """Go from one place to the next until the page has no more; gives their names."""
    while True:
        page.keyboard.press("Tab")
        name = page.evaluate(
            "document.activeElement === document.body ? '' : document.activeElement.outerHTML"
        )
        if not name:
            return
        yield name[:100]


def _pixels_that_tell_focus(page: Page) -> int:
    """Count the pixels around the focused place that change when it loses the focus."""
    focused = page.evaluate_handle("document.activeElement")
    clip = page.evaluate(
        """(one) => {
          const { x, y, width, height } = (one.labels?.[0] ?? one).getBoundingClientRect();
          return { x: Math.max(0, x - 6), y: Math.max(0, y - 6), width: width + 12, height: height + 12 };
        }""",
        focused,
    )
    with_focus = _picture(page, clip)
    page.evaluate("(one) => one.blur()", focused)
    difference = ImageChops.difference(with_focus, _picture(page, clip)).convert("L")
    page.evaluate("(one) => one.focus({ preventScroll: true })", focused)
    return sum(difference.point(lambda value: 255 if value > 40 else 0).histogram()[255:])


def _picture(page: Page, clip: FloatRect) -> Image.Image:
    return Image.open(io.BytesIO(page.screenshot(clip=clip))).convert("RGB")
