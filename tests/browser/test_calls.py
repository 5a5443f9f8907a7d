"""Urgent calls: read from three metres, answered by one key, heard if wanted, and never sent from a pocket."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Desk, Phone

READ_FROM_THREE_METRES_PX = 44


@pytest.fixture
def phone(open_phone: OpenPhone) -> Phone:
    return open_phone("Lead voice")


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk()


def font_px(desk: Desk, selector: str) -> float:
    size: float = desk.page.locator(selector).first.evaluate(
        "(one) => parseFloat(getComputedStyle(one).fontSize)"
    )
    return size


def test_call_stands_on_top_at_once_with_player_place_and_aux(demo: Demo, desk: Desk, phone: Phone) -> None:
    demo.ask("bass", "kick", 3)
    expect(desk.rows).to_have_count(1)

    phone.call("hurts")

    expect(desk.rows.first.locator(".caller")).to_have_text("Lead voice, centre, aux 1: HURTS")
    box = desk.rows.first.locator(".caller").bounding_box()
    assert box is not None
    assert box["y"] + box["height"] < 700
    assert font_px(desk, ".caller") >= READ_FROM_THREE_METRES_PX
    assert font_px(desk, ".caller b") >= 1.5 * READ_FROM_THREE_METRES_PX


def test_call_that_waits_behind_another_is_as_large(desk: Desk, phone: Phone, open_phone: OpenPhone) -> None:
    phone.call("hurts")
    expect(desk.rows).to_have_count(1)
    open_phone("Bass").call("talk")
    expect(desk.rows).to_have_count(2)

    assert font_px(desk, ".row.urgent:not(.now) .caller") >= READ_FROM_THREE_METRES_PX


def test_first_key_to_what_hurts_is_the_output_down(desk: Desk, phone: Phone) -> None:
    phone.call("hurts")
    expect(phone.calls).to_contain_text("Step away from the wedge.")
    desk.row("lead", kind="call").is_current()

    desk.press("Enter")

    expect(desk.rows).to_have_count(0)
    expect(desk.last_answers.first).to_have_text("call in Lead voice: done \N{MINUS SIGN}6")
    expect(phone.calls).to_contain_text("Your call: done")
    desk.press("u")
    # The call waits again; what hurt a moment ago is not put back up at once, so that it waits beside it.
    expect(desk.rows).to_have_count(2)


def test_one_key_tells_the_phone_that_the_call_was_seen(desk: Desk, phone: Phone) -> None:
    phone.call("talk")
    expect(phone.calls).to_contain_text("nobody has said yet that it was seen")
    desk.row("lead", kind="call").is_current()

    desk.press("c")

    expect(phone.calls).to_contain_text("seen by the desk,")
    expect(phone.calls.locator("time")).to_contain_text(" s ago")
    expect(desk.rows).to_have_count(1)


def test_one_place_tapped_again_and_again_sends_no_call(demo: Demo, phone: Phone) -> None:
    box = phone.page.locator("details.call summary").bounding_box()
    assert box is not None

    for _ in range(6):
        for part in (0.1, 0.5, 0.9):
            phone.page.mouse.click(box["x"] + box["width"] * part, box["y"] + box["height"] / 2)
            phone.page.wait_for_timeout(60)

    assert demo.rows() == []


def test_call_takes_two_taps_at_two_places(demo: Demo, phone: Phone) -> None:
    opener = phone.page.locator("details.call summary")
    opener.click()
    expect(phone.page.locator(".call-choices")).to_be_visible()
    here, there = opener.bounding_box(), phone.button("hurts too loud now").bounding_box()
    phone.button("hurts too loud now").click()
    expect(phone.calls).to_contain_text("Desk called: hurts")

    assert here is not None
    assert there is not None
    assert there["y"] + there["height"] + 8 <= here["y"]
    assert [row["urgent"] for row in demo.rows()] == ["hurts"]


def test_sound_is_off_until_it_is_wanted_and_stays_wanted(desk: Desk, phone: Phone) -> None:
    sounded = desk.page.locator("html")
    phone.call("talk")
    desk.row("lead", kind="call").is_current()
    expect(sounded).not_to_have_attribute("data-sounded", "1")
    desk.press("Enter")
    expect(desk.rows).to_have_count(0)

    desk.page.get_by_label("sound at an urgent call").check()
    phone.call("squeal")
    expect(sounded).to_have_attribute("data-sounded", "1")
    desk.row("lead", kind="call").is_current()
    desk.press("Enter")
    desk.page.reload()
    expect(desk.line).to_have_text("live")
    expect(desk.page.get_by_label("sound at an urgent call")).to_be_checked()
    desk.page.locator("h1").dispatch_event("click")
    desk.press("j")
    phone.call("nothing")

    expect(sounded).to_have_attribute("data-sounded", "1")
