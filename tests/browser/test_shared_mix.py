"""A mix that two players share: who asks, and what happens when they do not want the same."""

from playwright.sync_api import expect

from tests.browser.conftest import OpenContext, OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import figures


def test_shared_mix_asks_who_you_are(demo: Demo, open_context: OpenContext) -> None:
    page = open_context().new_page()

    page.goto(demo.links["Horns"])

    expect(page.get_by_role("heading")).to_have_text("Who are you?")
    expect(page.get_by_role("button")).to_have_text(["Trumpet", "Saxophone"])


def test_each_asks_under_their_own_name(demo: Demo, open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    trumpet, sax = open_phone("Horns", "Trumpet"), open_phone("Horns", "Saxophone")
    desk = open_desk()

    trumpet.ask("less Bass")
    sax.sees("Bass", "-3, waiting")
    sax.ask("less Bass")

    for phone in (trumpet, sax):
        phone.sees("Bass", "-6, waiting")
    desk.row("horns", "bass").shows("-6", "-16 to -22")
    expect(desk.row("horns", "bass").place).to_contain_text("asked 2 times by Trumpet and Saxophone")
    assert demo.row("horns", "bass")["asked_by"] == ["Trumpet", "Saxophone"]


def test_players_who_disagree_see_it_and_the_engineer_chooses(
    open_phone: OpenPhone, open_desk: OpenDesk
) -> None:
    trumpet, sax = open_phone("Horns", "Trumpet"), open_phone("Horns", "Saxophone")
    desk = open_desk()

    trumpet.ask("more Lead voice")
    sax.sees("Lead voice", "+3, waiting")
    sax.ask("less Lead voice")

    for phone in (trumpet, sax):
        phone.sees("Lead voice", "the desk will choose (Trumpet asks +3, Saxophone asks -3)")
    row = desk.row("horns", "lead")
    row.shows("0", "stay at -9", cautions=[figures("they disagree: Trumpet +3, Saxophone -3")])
    row.is_current()
    expect(row.place.locator("[data-key=Enter]")).to_have_count(0)
    desk.type("+1")
    desk.press("Enter")
    for phone in (trumpet, sax):
        phone.sees("Lead voice", "done +1 (Trumpet asked +3, Saxophone asked -3)")


def test_not_you_changes_who_asks(demo: Demo, open_phone: OpenPhone) -> None:
    phone = open_phone("Horns", "Trumpet")
    expect(phone.page.get_by_text("You are Trumpet.")).to_be_visible()

    phone.page.get_by_role("link", name="Not you?").click()
    phone.page.get_by_role("button", name="Saxophone").click()

    expect(phone.page.get_by_text("You are Saxophone.")).to_be_visible()
    expect(phone.line).to_have_text("live")
    phone.ask("less Kick")
    phone.sees("Kick", "-3, waiting")
    assert demo.row("horns", "kick")["asked_by"] == ["Saxophone"]


def test_other_mix_is_not_shown(demo: Demo, open_phone: OpenPhone) -> None:
    phone = open_phone("Horns", "Trumpet")
    request = demo.ask("bass", "trumpet", 4.5)
    phone.ask("less Snare")
    phone.sees("Snare", "-3, waiting")

    phone.sees("Trumpet")
    expect(phone.page.locator("body")).not_to_contain_text("+4.5")
    expect(phone.page.locator("body")).not_to_contain_text("Bass, wedge")
    demo.withdraw(request)
