"""Several questions at once on a phone: each is seen whole and answered by its own button, and nothing lies below them."""

import pytest
from playwright.sync_api import Page, ViewportSize, expect

from tests.browser.conftest import PHONE, OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Phone

NARROW = ViewportSize(width=320, height=640)
HEARD_BY_THEN_MS = 9_000
LAST_ABOVE = """() => {
  scrollTo(0, document.documentElement.scrollHeight);
  const last = [...document.querySelectorAll("#ask > :not(nav)")].pop().getBoundingClientRect();
  return document.querySelector("nav").getBoundingClientRect().top - last.bottom;
}"""


def ask_all_to_keep(page: Page) -> None:
    page.get_by_role("navigation", name="Desk").get_by_role("link", name="Afterwards", exact=True).click()
    page.get_by_role("button", name="ask the musicians on their phones").click()


def asked_how_it_is(demo: Demo, open_phone: OpenPhone, viewport: ViewportSize) -> Phone:
    phone = open_phone("Bass", viewport=viewport, clocked=True)
    demo.answer(demo.ask("bass", "guitar", 1))
    phone.sees("Guitar", "done +1")
    phone.page.clock.fast_forward(HEARD_BY_THEN_MS)
    expect(phone.button("just right")).to_be_visible()
    return phone


@pytest.mark.parametrize("viewport", [PHONE, NARROW])
def test_question_to_keep_is_answered_beside_how_it_is_now(
    demo: Demo, open_phone: OpenPhone, open_desk: OpenDesk, viewport: ViewportSize
) -> None:
    desk = open_desk()
    phone = asked_how_it_is(demo, open_phone, viewport)
    before = phone.page.locator(".question button").first.bounding_box()
    ask_all_to_keep(desk.page)
    expect(phone.button("yes, keep it")).to_be_in_viewport(ratio=1)
    expect(phone.button("just right")).to_be_in_viewport(ratio=1)
    assert phone.page.locator(".question button").first.bounding_box() == before

    assert phone.page.evaluate(LAST_ABOVE) >= 0
    phone.button("no").click()

    expect(phone.page.locator("#kept")).to_contain_text("you said no")
    expect(phone.button("just right")).to_be_visible()
    phone.button("just right").click()
    expect(phone.page.locator(".question")).to_have_count(0)


def test_how_it_is_now_is_not_asked_while_it_hurts(demo: Demo, open_phone: OpenPhone) -> None:
    phone = asked_how_it_is(demo, open_phone, PHONE)

    phone.call("hurts")

    expect(phone.calls).to_contain_text("Desk called: hurts")
    expect(phone.page.locator(".question")).to_have_count(0)
    phone.button("take back hurts").click()
    expect(phone.button("just right")).to_be_visible()
