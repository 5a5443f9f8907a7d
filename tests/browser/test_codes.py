"""The codes on the desk's screen: read from the picture by another reader, and replaced."""

import io
from collections.abc import Callable

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.chromium import Watch
from tests.support.codes import codes_in
from tests.support.demo import Demo

GONE = "the server responded with a status of 410"


@pytest.fixture
def open_codes(open_desk: OpenDesk) -> Callable[[], Page]:
    def open_page() -> Page:
        page = open_desk().page
        page.get_by_role("link", name="Codes").click()
        expect(page.get_by_role("heading", name="Codes")).to_be_visible()
        return page

    return open_page


def test_codes_on_the_screen_say_the_phones_links(demo: Demo, open_codes: Callable[[], Page]) -> None:
    page = open_codes()
    tablet = page.locator("li.code", has=page.get_by_role("heading", name="Stage tablet")).get_by_role("link")
    picture = Image.open(io.BytesIO(page.screenshot(full_page=True)))

    read = codes_in(picture)

    phones = [url for name, url in demo.links.items() if name != "desk"]
    assert sorted(read) == sorted([*phones, tablet.inner_text()])


@pytest.mark.security
def test_replaced_code_cuts_the_open_phone_and_says_whom_to_ask(
    demo: Demo, open_phone: OpenPhone, open_codes: Callable[[], Page], watch: Watch
) -> None:
    watch.expect(GONE)
    phone, other, codes = open_phone("Bass"), open_phone("Drums"), open_codes()
    code = codes.locator("li.code", has=codes.get_by_role("heading", name="Bass"))

    code.get_by_role("button", name="replace this code").click()

    expect(phone.page.get_by_role("heading")).to_have_text("This is over")
    expect(phone.page.locator("main")).to_contain_text("This code was replaced")
    expect(phone.page.locator("main")).to_contain_text("Ask the engineer for the new one.")
    expect(phone.page.locator("#strips")).to_have_count(0)
    demo.ask("drums", "kick", -1)
    other.sees("Kick", "-1, waiting")

    link = codes.locator("li.code", has=codes.get_by_role("heading", name="Bass")).get_by_role("link")
    phone.page.goto(link.inner_text())
    phone.page.get_by_role("button", name="yes, open my mix").click()
    expect(phone.line).to_have_text("live")


@pytest.mark.security
def test_replaced_desk_code_cuts_other_desks_alone(
    demo: Demo, open_desk: OpenDesk, open_codes: Callable[[], Page], watch: Watch
) -> None:
    watch.expect(GONE)
    other, codes = open_desk(elsewhere=True), open_codes()

    codes.get_by_role("button", name="replace the desk's code").click()

    expect(codes.get_by_text("This browser stays admitted.")).to_be_visible()
    expect(other.page.get_by_role("heading")).to_have_text("This is over")
    expect(other.page.locator("#queue")).to_have_count(0)
    codes.get_by_role("link", name="Queue").click()
    expect(codes.locator("#line")).to_have_text("live")
    demo.kill()  # the links that it printed open nothing any more
