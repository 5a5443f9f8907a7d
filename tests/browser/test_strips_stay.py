"""Nothing moves under a thumb: strips stay where they are while their sources are asked for and answered."""

import pytest
from playwright.sync_api import ViewportSize, expect

from tests.browser.conftest import OpenPhone
from tests.browser.test_nothing_jumps import ASKS, STOP, WATCH
from tests.support.demo import Demo

SOURCES = ("kick", "snare", "bass", "guitar", "accord", "trumpet", "lead")
SMALL, USUAL = ViewportSize(width=320, height=640), ViewportSize(width=390, height=844)


@pytest.mark.parametrize("viewport", [SMALL, USUAL], ids=["small", "usual"])
def test_strips_of_a_phone_stay_while_fifty_requests_arrive_and_are_answered(
    demo: Demo, open_phone: OpenPhone, viewport: ViewportSize
) -> None:
    phone = open_phone("Bass", viewport=viewport)
    strips = [f"#{one.get_attribute('id')}" for one in phone.page.locator("#strips .strip:visible").all()]
    phone.page.evaluate(WATCH, strips)

    for number in range(ASKS):
        demo.ask("bass", SOURCES[number % len(SOURCES)], 1 + number % 3)
    expect(phone.page.locator("#strip-bass")).to_contain_text("waiting")
    expect(phone.page.locator("#strip-lead")).to_contain_text("waiting")
    for row in demo.rows():
        demo.answer(*row["requests"])
    expect(phone.page.locator("#strip-bass")).to_contain_text("done")
    expect(phone.page.locator("#strip-lead")).to_contain_text("done")

    shifted, frames = phone.page.evaluate(STOP)
    assert frames > 1
    assert shifted == 0
