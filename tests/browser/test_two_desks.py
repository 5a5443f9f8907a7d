"""Two desks on one show: both live, no answer twice, and nobody's typing is disturbed."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.hands import Desk


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk()


@pytest.fixture
def other_desk(open_desk: OpenDesk) -> Desk:
    return open_desk(elsewhere=True)


def test_both_desks_are_live(demo: Demo, desk: Desk, other_desk: Desk) -> None:
    demo.ask("bass", "kick", -3)
    desk.row("bass", "kick").shows("-3", "-8 to -11")
    other_desk.row("bass", "kick").shows("-3", "-8 to -11")

    other_desk.press("Enter")

    desk.row("bass", "kick").is_gone()
    expect(desk.last_answers.first).to_have_text("Kick in Bass: done \N{MINUS SIGN}3")


def test_second_answer_to_a_row_is_told_and_not_applied(
    demo: Demo, open_phone: OpenPhone, desk: Desk, other_desk: Desk, watch: Watch
) -> None:
    watch.let_contact_fail()
    watch.expect("the server responded with a status of 409")
    phone = open_phone("Bass")
    demo.ask("bass", "snare", -1)
    desk.row("bass", "snare").is_current()
    other_desk.row("bass", "snare").is_current()
    other_desk.page.context.set_offline(True)
    other_desk.type("-4")
    other_desk.press("Enter")
    expect(other_desk.line).to_contain_text("1 to send")
    desk.press("Enter")
    phone.sees("Snare", "done -1")

    other_desk.page.context.set_offline(False)

    expect(other_desk.not_sent).to_contain_text("Nothing was changed")
    other_desk.row("bass", "snare").is_gone()
    expect(other_desk.line).to_have_text("live")
    phone.sees("Snare", "done -1")
    assert demo.level("bass", "snare") == -15


def test_request_that_was_not_seen_stays_waiting(demo: Demo, desk: Desk, watch: Watch) -> None:
    watch.let_contact_fail()
    demo.ask("bass", "guitar", -1)
    desk.row("bass", "guitar").is_current()
    desk.page.context.set_offline(True)
    demo.ask("bass", "guitar", -3)
    desk.press("Enter")
    expect(desk.line).to_contain_text("1 to send")

    desk.page.context.set_offline(False)

    desk.row("bass", "guitar").shows("-3", "-17 to -20")
    expect(desk.last_answers.first).to_have_text("Guitar in Bass: done \N{MINUS SIGN}1")


def test_row_that_arrives_disturbs_no_typing(demo: Demo, desk: Desk) -> None:
    demo.ask("drums", "snare", -3)
    row = desk.row("drums", "snare")
    row.is_current()
    desk.type("-2")

    demo.ask("bass", "lead", -3)  # stands above it, as its mix does
    demo.ask("drums", "snare", -1)

    expect(desk.rows).to_have_count(2)
    row.shows("-4", "-12 to -16")
    expect(row.figure).to_have_value("-2")
    expect(row.figure).to_be_focused()
    row.is_current()
    desk.type(".5")
    desk.press("Enter")
    expect(desk.last_answers.first).to_have_text("Snare in Drums: done \N{MINUS SIGN}2.5")
    expect(desk.rows).to_have_count(1)


def test_current_row_stays_the_same_whatever_arrives_above(demo: Demo, desk: Desk) -> None:
    demo.ask("drums", "lead", -3)
    desk.row("drums", "lead").is_current()

    demo.ask("drums", "kick", -3)
    demo.ask("lead", "kick", -3)

    expect(desk.rows).to_have_count(3)
    desk.row("drums", "lead").is_current()
    expect(desk.page.locator("#queue > li.now")).to_have_count(1)


def test_urgent_call_becomes_the_current_row_unless_something_is_typed(
    demo: Demo, open_phone: OpenPhone, desk: Desk
) -> None:
    phone = open_phone("Lead voice")
    demo.ask("bass", "accord", -3)
    row = desk.row("bass", "accord")
    row.is_current()
    desk.type("4")

    phone.call("squeal")

    expect(desk.rows.first).to_contain_text("SQUEAL")
    row.is_current()
    expect(row.figure).to_be_focused()
    desk.press("Escape")
    expect(row.figure).to_have_value("")
    phone.ask("take back squeal")
    expect(desk.rows).to_have_count(1)
    phone.call("hurts")
    desk.row("lead", kind="call").is_current()
