"""Which phone is awake, asleep or gone, what it finds when it wakes, and which desk is on which row."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.hands import Desk
from tests.support.sleeping import hide, shifts, show, watch_shifts


@pytest.fixture
def desk(open_desk: OpenDesk) -> Desk:
    return open_desk()


def test_desk_says_how_a_phone_is(desk: Desk, open_phone: OpenPhone) -> None:
    said = desk.page.locator("#mixes tr", has_text="Accordion").locator("[data-beside]")
    expect(said).to_have_text("no phone yet")

    phone = open_phone("Accordion")
    expect(said).to_have_text("phone awake")
    hide(phone.page)
    expect(said).to_contain_text("phone asleep")
    show(phone.page)
    expect(said).to_have_text("phone awake")
    phone.page.close()

    expect(said).to_contain_text("phone gone")


def test_words_on_a_phone_stay_when_its_mix_is_drawn_anew(
    demo: Demo, desk: Desk, open_phone: OpenPhone
) -> None:
    open_phone("Horns", "Trumpet")
    mix = desk.page.locator("#mixes tr", has_text="Horns")
    expect(mix).to_contain_text("phone awake")

    demo.ask("horns", "trumpet", 1, "trumpet")
    expect(mix.locator("td").last).to_have_text("1")

    expect(mix).to_contain_text("phone awake")


def test_answer_that_came_while_asleep_is_new_until_it_was_seen(demo: Demo, open_phone: OpenPhone) -> None:
    phone = open_phone("Bass")
    new = phone.page.locator(".tape b[data-new]").locator("visible=true")
    expect(new).to_have_count(0)
    request = demo.ask("bass", "kick", -1)
    phone.sees("Kick", "-1, waiting")
    expect(new).to_have_count(0)
    hide(phone.page)

    demo.answer(request)
    phone.sees("Kick", "done -1")
    expect(new).to_have_text("Drums")
    phone.page.reload()
    expect(new).to_have_text("Drums")
    phone.unfold("Drums")
    expect(new).to_have_count(1)
    expect(new).to_have_text("Kick")

    expect(new).to_have_count(0)


def test_desks_see_which_row_the_other_is_on(demo: Demo, desk: Desk, open_desk: OpenDesk) -> None:
    other = open_desk(elsewhere=True)
    other.page.get_by_label("this desk is called").fill("Stage side")
    other.page.get_by_role("button", name="keep", exact=True).click()
    expect(other.line).to_have_text("live")
    demo.ask("bass", "snare", -1)
    demo.ask("guitar", "kick", -1)
    expect(other.rows).to_have_count(2)
    expect(desk.rows).to_have_count(2)

    other.press("ArrowDown")
    row = other.page.locator("#queue > .now").get_attribute("id")

    expect(desk.page.locator(f"#{row}")).to_have_attribute("data-elsewhere", "Stage side is on this row")
    expect(desk.page.locator("#desks")).to_contain_text("Stage side")
    expect(other.page.locator(f"#{row}")).not_to_have_attribute("data-elsewhere", "Stage side is on this row")


def test_desk_that_is_on_a_row_moves_nothing_at_the_other(
    demo: Demo, desk: Desk, open_desk: OpenDesk
) -> None:
    other = open_desk(elsewhere=True)
    for source in ("kick", "snare"):
        demo.ask("bass", source, -1)
    expect(desk.rows).to_have_count(2)
    expect(other.rows).to_have_count(2)
    watch_shifts(desk.page)

    other.press("ArrowDown")
    expect(desk.rows.nth(1)).to_have_attribute("data-elsewhere", "another desk is on this row")

    assert [one for one in shifts(desk.page) if "row" in one] == []
