"""A key that was meant for one row answers no other that came under it by itself."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Desk

BOUNCE_MS = 200
"""For so long after an answer of one's own the row that follows takes no keys."""

# Presses enter the moment that a row comes under the keys, as a finger does that was on its way already.
PRESS_AT_ONCE = """(wanted) => new MutationObserver((_, observer) => {
  if (!document.getElementById(wanted)?.classList.contains("now")) return;
  observer.disconnect();
  document.body.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true }));
  document.body.dataset.pressed = "yes";
}).observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ["class"] })"""


@pytest.fixture
def desk(demo: Demo, open_desk: OpenDesk) -> Desk:
    """A desk with two rows, the first in hand."""
    desk = open_desk()
    demo.ask("bass", "kick", -1)
    desk.row("bass", "kick").is_current()
    demo.ask("bass", "snare", -1)
    expect(desk.rows).to_have_count(2)
    return desk


def press_as_soon_as_it_is_in_hand(desk: Desk, row: str) -> None:
    desk.page.evaluate(PRESS_AT_ONCE, row)


def was_pressed(desk: Desk) -> None:
    expect(desk.page.locator("body")).to_have_attribute("data-pressed", "yes")


def test_key_on_its_way_answers_no_call_that_just_came(demo: Demo, desk: Desk, open_phone: OpenPhone) -> None:
    phone = open_phone("Lead voice")
    press_as_soon_as_it_is_in_hand(desk, "row-lead--call")

    phone.call("hurts")
    was_pressed(desk)
    desk.row("lead", kind="call").is_current()

    assert [row["kind"] for row in demo.rows()].count("call") == 1
    assert len(demo.rows()) == 3
    desk.press("Enter")
    expect(phone.calls).to_have_text("Your call: done")


def test_key_on_its_way_answers_no_call_that_comes_where_nothing_waited(
    demo: Demo, open_desk: OpenDesk
) -> None:
    desk = open_desk()
    expect(desk.rows).to_have_count(0)
    press_as_soon_as_it_is_in_hand(desk, "row-lead--call")

    demo.call("lead", "hurts")
    was_pressed(desk)
    desk.row("lead", kind="call").is_current()

    assert [row["urgent"] for row in demo.rows()] == ["hurts"]


def test_key_pressed_twice_answers_no_call_that_follows_another(demo: Demo, desk: Desk) -> None:
    demo.call("lead", "hurts")
    demo.call("accord", "talk")
    expect(desk.rows).to_have_count(4)
    desk.row("lead", kind="call").is_current()
    press_as_soon_as_it_is_in_hand(desk, "row-accord--call")

    desk.press("Enter")
    was_pressed(desk)
    desk.row("accord", kind="call").is_current()

    assert [row["urgent"] for row in demo.rows()] == ["talk", None, None]


def test_key_pressed_twice_at_a_call_answers_no_row_after_it(demo: Demo, desk: Desk) -> None:
    demo.call("accord", "talk")
    desk.row("accord", kind="call").is_current()
    press_as_soon_as_it_is_in_hand(desk, "row-bass-kick-level")

    desk.press("Enter")
    was_pressed(desk)
    desk.row("bass", "kick").is_current()

    assert demo.row("bass", "kick")["state"] == "waiting"


def test_key_on_its_way_answers_no_row_that_follows_one_answered_elsewhere(demo: Demo, desk: Desk) -> None:
    press_as_soon_as_it_is_in_hand(desk, "row-bass-snare-level")

    demo.answer(*demo.row("bass", "kick")["requests"])
    was_pressed(desk)
    desk.row("bass", "snare").is_current()

    assert demo.row("bass", "snare")["state"] == "waiting"
    desk.press("Enter")
    desk.row("bass", "snare").is_gone()


def test_finger_that_bounces_answers_one_row_and_a_quick_hand_the_next(
    demo: Demo, open_desk: OpenDesk
) -> None:
    desk = open_desk(clocked=True)
    for source in ("kick", "snare", "lead"):
        demo.ask("bass", source, -1)
        expect(desk.row("bass", source).place).to_have_count(1)
    desk.row("bass", "kick").is_current()
    sent: list[str] = []
    desk.page.on("request", lambda request: sent.append(request.method) if request.method == "POST" else None)
    desk.page.clock.pause_at(desk.page.evaluate("Date.now()") + 1000)

    for answered, following in (("kick", "snare"), ("snare", "lead")):
        sent.clear()
        desk.press("Enter")
        desk.row("bass", answered).is_gone()
        expect(desk.row("bass", following).place).to_contain_class("now settling")
        desk.press("Enter")
        desk.page.clock.run_for(BOUNCE_MS + 1)
        desk.row("bass", following).is_current()
        assert sent == ["POST"]

    assert [row["source"] for row in demo.rows()] == ["lead"]


def test_hand_that_goes_to_a_row_after_an_answer_answers_it_at_once(demo: Demo, open_desk: OpenDesk) -> None:
    desk = open_desk(clocked=True)
    for source in ("kick", "snare", "lead"):
        demo.ask("bass", source, -1)
        expect(desk.row("bass", source).place).to_have_count(1)
    desk.row("bass", "kick").is_current()
    desk.page.clock.pause_at(desk.page.evaluate("Date.now()") + 1000)

    desk.press("Enter")
    desk.row("bass", "kick").is_gone()
    desk.press("ArrowDown", "Enter")

    desk.row("bass", "lead").is_gone()
    assert [row["source"] for row in demo.rows()] == ["snare"]
