"""Names that look like markup, run from right to left or are pictures: typed in Prepare, read everywhere as typed."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo

pytestmark = pytest.mark.security

MARKUP = "<img src=x onerror=alert(1)></b><script>alert(1)</script>"
IN_AN_ATTRIBUTE = "\"' onfocus='alert(1)' x=\" {{ 7 * 7 }} &lt;"
PICTURES = "\N{DRUM WITH DRUMSTICKS} \N{MAN}\N{ZERO WIDTH JOINER}\N{MICROPHONE} \N{ARABIC LETTER BEH}\N{ARABIC LETTER TEH}"


def test_name_is_shown_as_it_was_typed(demo: Demo, open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    desk = open_desk()
    phone = open_phone("Bass")
    prepare = desk.page.context.new_page()
    prepare.goto(f"{desk.page.url}/prepare")
    tape = phone.page.locator("#strip-guitar-tape b")

    for name in (MARKUP, IN_AN_ATTRIBUTE, PICTURES):
        _rename(prepare, "sources/guitar", name, read_as=name)
        _rename(prepare, "musicians/bass", name, read_as=name)
        expect(tape).to_have_text(name)
        phone.page.locator("#strip-guitar-less").click()

        row = desk.row("bass", "guitar")
        row.shows("-3", "-16 to -19")
        assert tape.evaluate("(one) => one.textContent") == name
        assert row.place.locator(".tape b").evaluate("(one) => one.textContent") == name
        expect(row.place).to_contain_text(f"asked once by {name}")
        assert phone.page.locator("#strip-guitar-more").get_attribute("aria-label") == f"more {name}"
        for page in (phone.page, desk.page, prepare):
            assert page.locator("img, main script, form script").count() == 0
        phone.page.reload()
        expect(tape).to_have_text(name)
        expect(phone.line).to_have_text("live")
        demo.clear()
        row.is_gone()


def test_name_cannot_turn_the_line_around(open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    desk, phone = open_desk(), open_phone("Bass")

    desk.page.get_by_role("link", name="Prepare").click()
    _rename(desk.page, "sources/snare", "\N{RIGHT-TO-LEFT OVERRIDE}Cowbell", read_as="Cowbell")

    tape = phone.page.locator("#strip-snare-tape b")
    expect(tape).to_have_text("Cowbell")
    assert tape.evaluate("(one) => one.textContent") == "Cowbell"


def _rename(page: Page, what: str, name: str, *, read_as: str) -> None:
    form = page.locator(f"form[action$='/{what}']")
    form.locator("input[name=name]").fill(name)
    form.get_by_role("button", name="save").click()
    expect(page.locator(f"form[action$='/{what}'] input[name=name]")).to_have_value(read_as)
