"""Groups on a phone: folded until they are opened, asked for in one tap, kept open while pushes arrive."""

from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.hands import figures


def test_less_drums_is_one_tap_and_one_row_with_each_send(open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Drums"), open_desk()

    phone.button("less Drums").click()

    phone.sees("Drums", "-3, waiting")
    row = desk.row("drums", "kit").place
    expect(row.locator(".sends li")).to_have_text(
        [figures("Kick -9 to -12"), figures("Snare -12 to -15"), figures("Overheads -19 to -22")]
    )
    desk.press("Enter")
    phone.sees("Drums", "done -3")
    expect(desk.last_answers.first).to_contain_text(figures("Drums in Drums: done -3"))


def test_group_is_folded_until_its_tape_is_pressed_and_stays_open(
    open_phone: OpenPhone, open_desk: OpenDesk
) -> None:
    phone = open_phone("Drums")
    open_desk()
    expect(phone.button("more Kick")).to_be_hidden()

    phone.tape("Drums").click()
    phone.button("more Kick").click()

    phone.sees("Kick", "+3, waiting")
    expect(phone.button("more Snare")).to_be_visible()
    expect(phone.tape("Drums")).to_contain_text("Kick: waiting")


def test_opened_group_is_read_by_keyboard_alone(open_phone: OpenPhone) -> None:
    phone = open_phone("Drums")

    phone.tape("Drums").focus()
    phone.page.keyboard.press("Enter")

    expect(phone.button("more Kick")).to_be_visible()
    phone.page.keyboard.press("Enter")
    expect(phone.button("more Kick")).to_be_hidden()
