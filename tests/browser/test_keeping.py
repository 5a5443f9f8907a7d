"""Keeping in a real browser: asked on the phones without a shift, agreed, kept, and shown once the show is over."""

from playwright.sync_api import Locator, ViewportSize, expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Desk, Phone
from tests.support.sleeping import shifts, watch_shifts

SMALL = ViewportSize(width=360, height=740)
PAGE = "/desk/afterwards"


def go(desk: Desk, name: str) -> None:
    desk.page.get_by_role("navigation", name="Desk").get_by_role("link", name=name, exact=True).click()


def row_of(desk: Desk, mix: str) -> Locator:
    return desk.page.get_by_role("row").filter(has=desk.page.get_by_role("rowheader", name=mix)).first


def ask_all(desk: Desk, open_phone: OpenPhone) -> Phone:
    phone = open_phone("Guitar", viewport=SMALL)
    watch_shifts(phone.page)
    go(desk, "Afterwards")
    desk.page.get_by_role("button", name="ask the musicians on their phones").click()
    expect(phone.button("yes, keep it")).to_be_visible()
    expect(phone.page.locator(".asked")).not_to_contain_class("deaf")
    return phone


def test_kept_mix_is_brought_back_with_one_key_after_the_hand_set_it(demo: Demo, open_desk: OpenDesk) -> None:
    desk = open_desk()
    go(desk, "Kept")
    row = row_of(desk, "Lead voice")
    row.get_by_role("link", name="Lower Fen Hall").click()
    expect(desk.page.get_by_text("monreq never moves the desk")).to_be_visible()
    before = demo.rows()

    desk.press("d")

    expect(desk.page.get_by_role("alert")).to_have_text("2 levels entered.")
    expect(desk.page.get_by_text("Everything stands as it was kept.")).to_be_visible()
    assert demo.rows() == before


def test_question_comes_to_the_phone_by_itself_and_a_yes_keeps_the_mix(
    open_desk: OpenDesk, open_phone: OpenPhone
) -> None:
    desk = open_desk()
    phone = ask_all(desk, open_phone)

    phone.ask("yes, keep it")

    expect(phone.page.locator("#keep")).to_be_hidden()
    expect(phone.page.locator("#kept")).to_contain_text("you said yes")
    expect(phone.page.locator("#kept")).to_contain_text("Your mix is kept as")
    assert shifts(phone.page) == []
    desk.page.reload()
    expect(row_of(desk, "Guitar")).to_contain_text("kept as")


def test_phone_shows_what_was_kept_once_the_show_is_closed(
    open_desk: OpenDesk, open_phone: OpenPhone
) -> None:
    desk = open_desk()
    phone = open_phone("Guitar", viewport=SMALL)
    go(desk, "Afterwards")

    desk.page.get_by_label("keep under the name").fill("Otterfold")
    desk.page.get_by_role("checkbox", name="Guitar").check()
    desk.page.get_by_role("button", name="keep those ticked").click()
    desk.page.get_by_role("button", name="close this show").click()

    expect(desk.page.get_by_text("This show is closed.")).to_be_visible()
    expect(phone.page.locator("#head")).to_contain_text("closed")
    expect(phone.page.locator("#keep")).to_have_text("Your mix is kept as Otterfold.")
