"""The desk answers, by key and by mouse, and every phone of the mix sees it."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.hands import Desk, figures


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk()


def test_key_for_another_figure(demo: Demo, open_phone: OpenPhone, desk: Desk) -> None:
    phone = open_phone("Bass")
    demo.ask("bass", "kick", 3)
    desk.row("bass", "kick").is_current()

    desk.type("+2")
    expect(desk.row("bass", "kick").figure).to_have_value("+2")
    desk.press("Enter")

    phone.sees("Kick", "asked +3, done +2")
    assert demo.level("bass", "kick") == -6


def test_key_for_the_level_read_off_the_desk(demo: Demo, open_phone: OpenPhone, desk: Desk) -> None:
    phone = open_phone("Bass")
    demo.ask("bass", "lead", 3)
    desk.row("bass", "lead").is_current()

    desk.type("@-6.5")
    desk.press("Enter")

    phone.sees("Lead voice", "asked +3, done +1.5")
    assert demo.level("bass", "lead") == -6.5


def test_key_for_setting_aside_leads_to_the_next_row(demo: Demo, open_phone: OpenPhone, desk: Desk) -> None:
    phone = open_phone("Bass")
    demo.ask("bass", "snare", 3)
    demo.ask("bass", "guitar", 3)
    desk.row("bass", "snare").is_current()
    expect(desk.rows).to_have_count(2)

    desk.press("s")

    phone.sees("Snare", "+3, set aside by the desk")
    expect(desk.rows.last).to_contain_text("set aside")
    desk.row("bass", "guitar").is_current()
    desk.press("ArrowDown", "Enter")
    phone.sees("Snare", "done +3")


def test_key_for_not_done_leads_to_the_reasons(demo: Demo, open_phone: OpenPhone, desk: Desk) -> None:
    phone = open_phone("Bass")
    demo.ask("bass", "accord", 3)
    desk.row("bass", "accord").is_current()

    desk.press("x", "f")

    phone.sees("Accordion", "not done: near feedback")
    assert demo.level("bass", "accord") == -15


def test_key_for_undo_returns_the_request(demo: Demo, open_phone: OpenPhone, desk: Desk) -> None:
    phone = open_phone("Bass")
    demo.ask("bass", "trumpet", 3)
    desk.row("bass", "trumpet").is_current()
    desk.press("Enter")
    phone.sees("Trumpet", "done +3")
    assert demo.level("bass", "trumpet") == -16

    desk.press("u")

    phone.sees("Trumpet", "+3, waiting")
    desk.row("bass", "trumpet").is_current()
    assert demo.level("bass", "trumpet") == -19


def test_undo_makes_the_row_that_comes_back_the_current_one(demo: Demo, desk: Desk) -> None:
    demo.ask("lead", "accord", 1)
    demo.ask("lead", "guitar", 1)
    desk.row("lead", "accord").is_current()
    desk.press("Enter")
    desk.row("lead", "guitar").is_current()

    desk.press("u")

    desk.row("lead", "accord").is_current()


def test_key_held_down_answers_one_row(demo: Demo, desk: Desk) -> None:
    for source in ("kick", "snare", "lead"):
        demo.ask("drums", source, 3)
    expect(desk.rows).to_have_count(3)

    for _ in range(3):
        desk.page.keyboard.down("Enter")
    desk.page.keyboard.up("Enter")

    expect(desk.rows).to_have_count(2)
    expect(desk.page.locator("#queue .settling")).to_have_count(0)
    desk.press("s")
    expect(desk.page.locator("#queue > li.aside")).to_have_count(1)
    expect(desk.rows).to_have_count(2)


def test_key_enter_answers_as_typed_also_when_the_focus_went_elsewhere(demo: Demo, desk: Desk) -> None:
    demo.ask("accord", "kick", 3)
    desk.row("accord", "kick").is_current()
    desk.type("+1")

    desk.page.get_by_role("heading", name="Last answers").click()
    desk.press("Enter")

    expect(desk.last_answers.first).to_have_text("Kick in Accordion: done +1")


def test_figure_that_is_none_is_told_and_kept(demo: Demo, desk: Desk, watch: Watch) -> None:
    watch.expect("the server responded with a status of 422")
    demo.ask("accord", "bass", 3)
    row = desk.row("accord", "bass")
    row.is_current()

    desk.type("+x")
    desk.press("Enter")

    expect(desk.not_sent).to_contain_text("Type the change with its sign")
    expect(row.figure).to_have_value("+x")
    desk.press("Escape", "Enter")
    expect(desk.not_sent).to_be_empty()
    row.is_gone()


def test_mouse_answers_done(demo: Demo, open_phone: OpenPhone, desk: Desk) -> None:
    phone = open_phone("Guitar")
    demo.ask("guitar", "kick", -1)

    desk.row("guitar", "kick").press(figures("done -1"))

    phone.sees("Kick", "done -1")


def test_mouse_answers_with_another_figure(demo: Demo, open_phone: OpenPhone, desk: Desk) -> None:
    phone = open_phone("Guitar")
    demo.ask("guitar", "snare", 6)
    row = desk.row("guitar", "snare")

    row.figure.fill("@ -12")
    row.press("done so")

    phone.sees("Snare", "asked +6, done +4")


def test_mouse_sets_aside_and_says_why_not(demo: Demo, open_phone: OpenPhone, desk: Desk) -> None:
    phone = open_phone("Guitar")
    demo.ask("guitar", "lead", 6)
    row = desk.row("guitar", "lead")
    row.press("set aside")
    phone.sees("Lead voice", "+6, set aside by the desk")

    row.place.locator("details.reason > summary").click()
    row.place.get_by_label("own words").fill("it is loud in the house")
    row.press("not done so")

    phone.sees("Lead voice", "not done: it is loud in the house")


def test_mouse_undoes_an_earlier_answer(demo: Demo, open_phone: OpenPhone, desk: Desk) -> None:
    phone = open_phone("Guitar")
    demo.answer(demo.ask("guitar", "bass", 1))
    demo.answer(demo.ask("guitar", "accord", 1))
    expect(desk.last_answers.nth(1)).to_have_text("Bass in Guitar: done +1")
    phone.sees("Bass", "done +1")

    _undo(desk.page, "Bass in Guitar: done +1")

    phone.sees("Bass", "+1, waiting")
    phone.sees("Accordion", "done +1")


def _undo(page: Page, answer: str) -> None:
    page.locator("#decisions > li", has_text=answer).get_by_role("button").click()
