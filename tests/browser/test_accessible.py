"""Every page for everybody: no violation of WCAG 2.2 AA and no faint text, dark and light, narrow and with large text."""

from collections.abc import Callable
from urllib.parse import urljoin

import pytest
from playwright.sync_api import BrowserContext, Page, ViewportSize, expect

from tests.browser.conftest import DESK, PHONE, OpenContext, enter
from tests.support.axe import faint, violations
from tests.support.chromium import Watch
from tests.support.demo import Demo

NARROW = ViewportSize(width=320, height=568)
"""WCAG 2.2, 1.4.10: content is read at a width of 320 CSS pixels without scrolling sideways."""
TWICE_AS_LARGE = ViewportSize(width=640, height=400)
"""What a screen of 1280 x 800 has left at 200 % (WCAG 2.2, 1.4.4)."""
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"

DESK_PAGES = (
    "/desk",
    "/desk/mix/accord",
    "/desk/mix/bass",
    "/desk/prepare",
    "/desk/codes",
    "/desk/sheets",
    "/language?back=/desk",
    "/reckoning",
)
MORE_DESK_PAGES = (
    "/desk/songs",
    "/desk/kept",
    "/desk/afterwards",
    "/desk/books",
    "/desk/mix/bass?then=150",
    "/desk/mix/bass/at/150",
)


@pytest.fixture
def busy(demo: Demo) -> Demo:
    """An evening in which something waits in every way."""
    demo.ask("accord", "kick", 3)
    demo.ask("accord", None, -3)
    demo.ask("bass", "kick", 12)
    return demo


@pytest.fixture(params=["dark", "light"])
def browsing(request: pytest.FixtureRequest, open_context: OpenContext) -> BrowserContext:
    context = open_context(PHONE)
    context.on("page", lambda page: page.emulate_media(color_scheme=request.param, reduced_motion="reduce"))
    return context


def test_the_phone_keeps_the_rules_in_every_state(busy: Demo, browsing: BrowserContext) -> None:
    page = browsing.new_page()
    found = {}
    page.goto(busy.links["Accordion"])
    found["entry"] = violations(page, bars=True)
    page.get_by_role("button", name="yes, open my mix").click()
    expect(page.locator("#line")).to_have_text("live")
    found["mix"] = violations(page, bars=True)
    page.locator(".group", has=page.locator("#strip-kick")).locator("summary").first.click()
    page.locator("#strip-kick-tape summary").click()
    found["strip open"] = violations(page, bars=True)
    page.get_by_text("Call the desk").click()
    found["calls open"] = violations(page, bars=True)
    page.locator(".call-choices").get_by_role("button", name="hurts").click()
    expect(page.locator("#calls")).to_contain_text("Desk called")
    found["called"] = violations(page, bars=True)
    page.get_by_role("link", name="Say what sounds wrong").click()
    found["own words"] = violations(page, bars=True)
    page.goto(f"{page.url.partition('/mix')[0]}/language?back=/mix/accord")
    found["language"] = violations(page, bars=True)

    assert {name: faults for name, faults in found.items() if faults} == {}
    assert len(found) == 7


def test_a_refusal_keeps_the_rules(demo: Demo, browsing: BrowserContext, watch: Watch) -> None:
    watch.expect("the server responded with a status of 401")
    page = browsing.new_page()

    page.goto(f"http://desk.test:{demo.port}/mix/bass")

    expect(page.get_by_role("heading")).to_have_text("Scan your card")
    assert violations(page) == []


@pytest.fixture
def crowded(busy: Demo) -> Demo:
    """An evening in which a request is set aside besides, and somebody calls."""
    busy.answer(busy.ask("drums", "snare", 1), outcome="set_aside")
    busy.call("guitar", "hurts")
    return busy


@pytest.fixture
def desk(crowded: Demo, open_context: OpenContext) -> Page:
    return enter(open_context(DESK), crowded.links["desk"])


def test_every_page_of_the_desk_keeps_the_rules_in_dark(desk: Page) -> None:
    found = _looked_at(desk, violations)

    assert {name: faults for name, faults in found.items() if faults} == {}


def test_no_text_of_the_desk_is_faint_in_light(desk: Page) -> None:
    desk.get_by_role("link", name="Colours").click()
    desk.get_by_role("button", name="light, for daylight", exact=True).click()

    found = _looked_at(desk, faint, "rgb(247, 245, 239)")

    assert {name: faults for name, faults in found.items() if faults} == {}


def _looked_at(
    desk: Page, look: Callable[[Page], list[str]], ground: str = "rgb(21, 21, 19)"
) -> dict[str, list[str]]:
    """Look at the queue, at a row whose reasons are open, and at every other page, all on this ground."""
    expect(desk.locator("#line")).to_have_text("live")
    found = {"queue": look(desk)}
    desk.keyboard.press("ArrowDown")
    desk.keyboard.press("x")
    found["row in hand"] = look(desk)
    for path in (*DESK_PAGES, *MORE_DESK_PAGES):
        answer = desk.goto(urljoin(desk.url, path))
        assert answer is not None
        assert answer.ok, path
        assert desk.evaluate("getComputedStyle(document.documentElement).backgroundColor") == ground
        found[path] = look(desk)
    return found


def test_no_page_of_the_desk_scrolls_sideways_or_loses_a_button_narrow_or_zoomed(desk: Page) -> None:
    found = {}

    for path in DESK_PAGES:
        desk.set_viewport_size(DESK)
        desk.goto(urljoin(desk.url, path))
        in_full = desk.locator("button:visible, a:visible").count()
        for size in (NARROW, TWICE_AS_LARGE):
            desk.set_viewport_size(size)
            found[path, size["width"]] = (
                desk.evaluate(SIDEWAYS),
                desk.locator("button:visible, a:visible").count() - in_full,
            )

    assert found == dict.fromkeys(found, (0, 0))


BESIDE = """() => {
  const [left, right] = ["main", "aside"].map((part) => document.querySelector(`.desk-columns > ${part}`));
  const ends = [...left.querySelectorAll("*")].map((one) => one.getBoundingClientRect().right);
  const { left: begins, top } = right.getBoundingClientRect();
  return top >= left.getBoundingClientRect().bottom || Math.max(...ends) <= begins;
}"""


@pytest.mark.parametrize("language", ["en", "de"])
def test_columns_of_the_desk_do_not_lie_on_one_another(
    busy: Demo, open_context: OpenContext, language: str
) -> None:
    page = enter(open_context(DESK, language=language), busy.links["desk"])

    apart = {}
    for path in ("/desk", "/desk/mix/accord", "/desk/mix/bass"):
        page.goto(urljoin(page.url, path))
        for width in (1440, 1280, 1181, 1024):
            page.set_viewport_size({"width": width, "height": 700})
            apart[path, width] = page.evaluate(BESIDE) and page.evaluate(SIDEWAYS) == 0

    assert apart == dict.fromkeys(apart, True)
