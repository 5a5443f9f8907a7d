"""An open desk notices by itself what time alone changes, and what is wrong with the laptop."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Desk, Row

HOUR_S = 3600
AFTER_AN_HOUR_MS = 3_601_000

# Presses enter the moment that a row's raise is gone, as a finger does that was on its way already.
PRESS_ONCE_IT_IS_GONE = """(row) => new MutationObserver((_, observer) => {
  if (document.getElementById(`${row}-do-done`)) return;
  observer.disconnect();
  document.body.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true }));
  document.body.dataset.pressed = "yes";
}).observe(document.body, { subtree: true, childList: true })"""


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk()


def measure(desk: Desk, mix: str, level_dba: str) -> None:
    """Enter a level at the ear in another tab."""
    page = desk.page.context.new_page()
    page.goto(desk.page.url.replace("/desk", f"/desk/mix/{mix}"))
    form = page.locator("#exposure form").first
    form.locator("input[name=level]").fill(level_dba)
    form.locator("input[name=how]").first.check()
    form.locator("input[name=field][value=converted]").check()
    form.get_by_role("button", name="enter this level").click()
    expect(page.locator("#exposure")).to_contain_text(f"measured {level_dba} dB(A)")
    page.close()


def raise_for_an_hour(demo: Demo, desk: Desk, mix: str, source: str) -> Row:
    """Let somebody ask for more less than an hour before a day at 94 dB(A) may be full (NIOSH 98-126)."""
    measure(desk, mix, "94")
    demo.ask(mix, source, 3)
    row = desk.row(mix, source)
    row.is_current()
    expect(row.place.get_by_role("button", name="done +3")).to_have_count(1)
    return row


def test_raise_goes_from_an_open_desk_by_itself_when_the_day_is_full(demo: Demo, desk: Desk) -> None:
    row = raise_for_an_hour(demo, desk, "drums", "guitar")

    demo.clock.leap(HOUR_S)

    expect(row.place.get_by_role("button", name="done +3")).to_have_count(0)
    expect(row.place.locator(".hand").first).to_contain_text("this ear's day may be full")
    expect(row.set_to).to_contain_text("stay at")
    expect(desk.line).to_have_text("live")
    assert demo.row("drums", "guitar")["suggested_db"] == 0


def test_enter_on_its_way_to_a_raise_does_nothing_that_came_in_its_place(demo: Demo, desk: Desk) -> None:
    row = raise_for_an_hour(demo, desk, "accord", "bass")
    level = demo.level("accord", "bass")
    desk.page.evaluate(PRESS_ONCE_IT_IS_GONE, "row-accord-bass-level")

    demo.clock.leap(HOUR_S)
    expect(desk.page.locator("body")).to_have_attribute("data-pressed", "yes")
    row.is_current()

    assert demo.row("accord", "bass")["state"] == "waiting"
    assert demo.level("accord", "bass") == level


def test_open_phone_says_by_itself_that_the_day_is_full(
    demo: Demo, desk: Desk, open_phone: OpenPhone
) -> None:
    measure(desk, "guitar", "94")
    phone = open_phone("Guitar", clocked=True)
    said, full = (
        phone.page.locator(".exposure p").filter(has_text=text) for text in ("full at about", "day is full (")
    )
    expect(said.first).to_be_visible()
    expect(full).to_be_hidden()

    demo.clock.leap(HOUR_S + 1)
    phone.page.clock.fast_forward(AFTER_AN_HOUR_MS)

    expect(full).to_be_visible()
    expect(said.first).to_be_hidden()
    expect(said.last).to_be_hidden()
