"""Notes from the desk and the line check, live: on the phone without a shift, at the desk as words."""

import pytest
from playwright.sync_api import ViewportSize, expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Desk, Phone
from tests.support.sleeping import shifts, watch_shifts

SMALL = ViewportSize(width=360, height=740)
SETTLED_MS = 700
"""A note takes no tap at first: a thumb that was on its way there means something else."""


@pytest.fixture
def phone(open_phone: OpenPhone) -> Phone:
    return open_phone("Guitar", viewport=SMALL)


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk()


def note(desk: Desk, words: str, to: str = "Guitar") -> None:
    desk.page.get_by_label("note to", exact=True).select_option(label=to)
    desk.page.get_by_role("button", name=words, exact=True).click()


def test_note_is_answered_with_a_thumb_and_read_at_the_desk(demo: Demo, desk: Desk, phone: Phone) -> None:
    told = phone.page.locator("#told")

    note(desk, "two minutes")
    expect(told).to_contain_text("two minutes")
    phone.ask("not yet")
    expect(desk.page.locator("#notes > li").first).to_contain_text("Guitar: not yet")
    phone.ask("ok")

    expect(desk.page.locator("#notes > li").first).to_contain_text("Guitar: ok")
    expect(told).to_be_hidden()
    assert demo.rows() == []


def test_note_moves_nothing_on_the_phone(desk: Desk, phone: Phone) -> None:
    phone.page.mouse.wheel(0, 300)
    expect(phone.tape("Kick")).not_to_be_in_viewport()
    watch_shifts(phone.page)
    before = phone.page.locator("#strips .strip").evaluate_all(
        "(all) => all.map((one) => one.getBoundingClientRect().top)"
    )

    note(desk, "please stop playing")
    expect(phone.page.locator("#told")).to_contain_text("please stop playing")
    expect(phone.page.locator("#told")).to_be_in_viewport()
    during = phone.page.locator("#strips .strip").evaluate_all(
        "(all) => all.map((one) => one.getBoundingClientRect().top)"
    )
    box = phone.button("ok").bounding_box()
    assert box is not None
    phone.page.wait_for_timeout(SETTLED_MS)
    phone.page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    expect(phone.page.locator("#told")).to_be_hidden()
    after = phone.page.locator("#strips .strip").evaluate_all(
        "(all) => all.map((one) => one.getBoundingClientRect().top)"
    )

    assert during == before
    assert after == before
    assert shifts(phone.page) == []


def test_longest_note_can_be_read_beside_its_replies(desk: Desk, phone: Phone) -> None:
    words = "please come to the left side after this song, ok"[:48]
    desk.page.get_by_label("note to", exact=True).select_option(label="Guitar")
    desk.page.get_by_label("own words", exact=True).fill(words)
    desk.page.get_by_role("button", name="send it", exact=True).click()

    told = phone.page.locator("#told p")
    expect(told).to_contain_text(words)
    heights = told.evaluate("(one) => [one.scrollHeight, one.clientHeight]")

    assert heights[0] <= heights[1] + 1
    for reply in ("ok", "not yet", "come here"):
        box = phone.button(reply).bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 48
    phone.ask("come here")


def test_line_check_is_answered_and_counted_live(desk: Desk, phone: Phone, open_phone: OpenPhone) -> None:
    other = open_phone("Bass")
    desk.page.get_by_label("Can you hear").select_option(label="Kick")
    desk.page.get_by_role("button", name="ask every mix").click()
    expect(phone.page.locator("#told")).to_contain_text("can you hear Kick?")

    phone.ask("yes")
    other.ask("no")

    expect(desk.page.locator("#line-check tr", has_text="Guitar").locator("td")).to_have_text("yes")
    expect(desk.page.locator("#line-check tr", has_text="Bass").locator("td")).to_have_text("no")
    desk.page.get_by_role("button", name="end the line check").click()
    expect(phone.page.locator("#told")).to_be_hidden()
    expect(desk.page.locator("#line-check")).to_contain_text("1 yes, 1 no")
