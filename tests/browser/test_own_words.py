"""What sounds wrong, typed on a live phone page."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Phone

LINK = "Say what sounds wrong in your own words"


@pytest.fixture
def phone(open_phone: OpenPhone) -> Phone:
    opened = open_phone("Bass")
    opened.page.get_by_role("link", name=LINK).click()
    expect(opened.page.locator("#line")).to_have_text("live")
    return opened


def test_typed_words_are_told_and_the_field_is_empty_again(phone: Phone, open_desk: OpenDesk) -> None:
    desk = open_desk()
    field = phone.page.get_by_label("What sounds wrong, in your own words")
    field.fill("rings at the high note")

    phone.page.get_by_role("button", name="tell the desk").click()

    expect(phone.page.locator("#whole")).to_contain_text("rings at the high note: waiting")
    expect(field).to_have_value("")
    expect(desk.page.locator("#row-bass--sound")).to_contain_text("rings at the high note")


def test_half_typed_words_stay_while_something_else_is_asked(demo: Demo, phone: Phone) -> None:
    field = phone.page.get_by_label("What sounds wrong, in your own words")
    field.fill("rings at the")

    phone.ask("more Kick")
    phone.sees("Kick", "+3, waiting")
    demo.ask("bass", "snare", -1)
    phone.sees("Snare", "-1, waiting")

    expect(field).to_have_value("rings at the")
