"""The stage tablet in a real browser: a face as large as a palm, and who stood there is forgotten."""

import re

from playwright.sync_api import ViewportSize, expect

from tests.browser.conftest import OpenContext
from tests.support.axe import violations
from tests.support.demo import Demo
from tests.support.hands import Phone

TABLET = ViewportSize(width=800, height=1280)
PALM_PX = 170  # chosen: what an open hand hits without aiming, on a tablet at the reach of an arm


def test_a_tablet_serves_one_after_another_and_forgets(demo: Demo, open_context: OpenContext) -> None:
    desk = open_context().new_page()
    desk.goto(demo.links["desk"])
    desk.get_by_role("button", name="open the desk").click()
    desk.goto(f"http://127.0.0.1:{demo.port}/desk/codes")
    link = desk.locator("a[href*='/tablet/open/']").get_attribute("href")
    assert link
    page = open_context(TABLET).new_page()
    page.clock.install()
    page.goto(link)
    assert violations(page) == []
    page.get_by_role("button", name="open the stage tablet").click()

    faces = page.locator(".face")
    expect(faces).to_have_count(7)
    sizes = [face.bounding_box() for face in faces.all()]
    assert all(size and min(size["width"], size["height"]) >= PALM_PX for size in sizes)
    assert violations(page) == []

    faces.filter(has_text="Lead voice").click()
    Phone(page).ask("more Lead voice")
    Phone(page).sees("Lead voice", "+3, waiting")
    assert violations(page, bars=True) == []

    page.clock.fast_forward(15_000)
    page.locator("h1").click()
    page.clock.fast_forward(15_000)
    expect(page).to_have_url(re.compile("/mix/lead"))
    page.clock.fast_forward(21_000)

    expect(faces).to_have_count(7)
    page.go_back()
    expect(page.get_by_role("heading")).not_to_contain_text("Your mix")
