"""The outbox: what a phone asked while the server was killed arrives when it is back, exactly once."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.chromium import Watch
from tests.support.demo import Demo

LOST_MS = 8000
"""After so long a page says that there is no contact."""
LONGEST_PAUSE_MS = 10_000
"""No page waits longer until it tries again."""


def asked(demo: Demo, mix: str) -> dict[str, tuple[float, int]]:
    """Return the sum of each source of a mix, and how often it was asked."""
    return {row["source"]: (row["sum_db"], row["asked"]) for row in demo.rows() if row["mix"] == mix}


@pytest.fixture
def killed_later(watch: Watch) -> None:
    watch.let_contact_fail()


@pytest.mark.usefixtures("killed_later")
@pytest.mark.faults
def test_asks_while_the_server_was_killed_arrive_once(
    demo: Demo, open_phone: OpenPhone, open_desk: OpenDesk
) -> None:
    phone, desk = open_phone("Bass", clocked=True), open_desk(clocked=True)
    demo.kill()
    for source in ("Guitar", "Snare", "Lead voice"):
        phone.ask(f"more {source}")
    expect(phone.line).to_contain_text("3 to send")
    expect(phone.button("more Guitar")).to_contain_class("sent")
    phone.sees("Guitar")
    phone.page.clock.fast_forward(LOST_MS)
    expect(phone.line).to_have_text("no contact with the desk: 3 to send")

    demo.start()
    for screen in (phone, desk):
        screen.page.clock.fast_forward(LONGEST_PAUSE_MS)

    phone.sees("Lead voice", "+3, waiting")
    expect(phone.line).to_have_text("live")
    expect(phone.page.locator("button.sent")).to_have_count(0)
    expect(desk.rows).to_have_count(3)
    assert asked(demo, "bass") == {"guitar": (3, 1), "snare": (3, 1), "lead": (3, 1)}


@pytest.mark.usefixtures("killed_later")
@pytest.mark.faults
def test_asks_of_a_page_that_was_closed_arrive_once(demo: Demo, open_phone: OpenPhone) -> None:
    phone = open_phone("Drums")
    demo.kill()
    for source in ("Kick", "Snare", "Click"):
        phone.ask(f"less {source}")
    expect(phone.line).to_contain_text("3 to send")
    address, context = phone.page.url, phone.page.context
    phone.page.close()
    demo.start()
    assert demo.rows() == []

    page = context.new_page()
    page.goto(address)

    expect(page.get_by_text("\N{MINUS SIGN}3, waiting")).to_have_count(3)
    expect(page.locator("#line")).to_have_text("live")
    assert asked(demo, "drums") == {"kick": (-3, 1), "snare": (-3, 1), "click": (-3, 1)}
    page.reload()
    expect(page.locator("#line")).to_have_text("live")
    assert asked(demo, "drums") == {"kick": (-3, 1), "snare": (-3, 1), "click": (-3, 1)}


@pytest.mark.usefixtures("killed_later")
@pytest.mark.faults
def test_answers_of_a_desk_arrive_once(demo: Demo, open_phone: OpenPhone, open_desk: OpenDesk) -> None:
    phone, desk = open_phone("Accordion", clocked=True), open_desk(clocked=True)
    demo.ask("accord", "kick", 1)
    desk.row("accord", "kick").is_current()
    before = demo.level("accord", "kick")
    demo.kill()
    desk.press("Enter")
    expect(desk.line).to_contain_text("1 to send")

    demo.start()
    for screen in (phone, desk):
        screen.page.clock.fast_forward(LONGEST_PAUSE_MS)

    phone.sees("Kick", "done +1")
    assert before is not None
    assert demo.level("accord", "kick") == before + 1


def test_slip_of_the_thumb_counts_once(demo: Demo, open_phone: OpenPhone) -> None:
    phone = open_phone("Accordion")

    phone.reveal("Snare")
    phone.button("more Snare").dblclick()
    phone.sees("Snare", "+3, waiting")
    phone.ask("more Bass")
    phone.sees("Bass", "+3, waiting")

    assert asked(demo, "accord") == {"snare": (3, 1), "bass": (3, 1)}


def test_second_tap_after_a_moment_counts(demo: Demo, open_phone: OpenPhone) -> None:
    phone = open_phone("Accordion")
    phone.ask("more Guitar")
    tapped = phone.page.evaluate("performance.now()")

    phone.page.wait_for_function("(tapped) => performance.now() > tapped + 350", arg=tapped)
    phone.ask("more Guitar")

    phone.sees("Guitar", "+6, waiting")
    assert asked(demo, "accord") == {"guitar": (6, 2)}


def test_ask_with_a_stale_token_is_sent_with_another(demo: Demo, open_phone: OpenPhone, watch: Watch) -> None:
    watch.expect("the server responded with a status of 400")
    phone = open_phone("Accordion")
    phone.page.locator("input[name=csrf_token]").evaluate("(field) => { field.value = 'stale'; }")

    phone.ask("more Lead voice")

    phone.sees("Lead voice", "+3, waiting")
    expect(phone.page.locator("#not-sent")).to_be_empty()
    assert asked(demo, "accord") == {"lead": (3, 1)}
