"""What was pressed and never sent: of another show it is told and not sent, of the same show the desk is asked when it is old."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from monreq.app import open_shows
from monreq.cli.demo import begin
from monreq.config import Config
from monreq.domain import commands as c
from tests.browser.conftest import OpenDesk, enter
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.hands import Desk

TWO_MINUTES_MS = 120_000
LONGEST_PAUSE_MS = 10_000
NEXT = "satu"


@pytest.fixture(autouse=True)
def killed_later(watch: Watch) -> None:
    watch.let_contact_fail()


def begin_saturday(folder: Path, until: int) -> None:
    """Begin another show of the same line-up, whose request has the number given."""
    storage, shows = open_shows(
        Config.from_environment({"MONREQ_ASYNC_MODE": "threading"}, data_dir=folder), may_write=True
    )
    show = begin(shows, NEXT)
    while show.revision < until - 1:
        show = shows.submit(NEXT, c.RenameShow(f"Saturday {show.revision}")).show
    show = shows.submit(NEXT, c.AskForLevel("lead", None, "lead", 30)).show
    (request,) = show.open_requests
    assert request == f"r{until}"
    storage.close()


def press_without_contact(demo: Demo, desk: Desk, source: str) -> str:
    """Let an answer in Drums wait for contact for longer than the desk sends it unasked; returns what it answers."""
    request = demo.ask("drums", source, 1)
    desk.row("drums", source).is_current()
    demo.kill()
    desk.press("Enter")
    expect(desk.line).to_contain_text("1 to send")
    desk.page.clock.fast_forward(TWO_MINUTES_MS + 1000)
    return request


def test_an_answer_older_than_two_minutes_is_asked_about_and_sent_only_if_it_is_still_right(
    demo: Demo, open_desk: OpenDesk
) -> None:
    desk = open_desk(clocked=True)
    press_without_contact(demo, desk, "kick")

    demo.start()
    desk.page.clock.fast_forward(LONGEST_PAUSE_MS)

    asked = desk.page.locator("#too-old p")
    expect(asked).to_contain_text("Drums, Kick")
    expect(asked).to_contain_text("pressed 2 min ago")
    expect(desk.line).to_have_text("live")
    assert len(demo.rows()) == 1
    expect(desk.page.locator("#row-drums-kick-level")).not_to_have_attribute("aria-busy", "true")

    asked.get_by_role("button", name="send it", exact=True).click()

    expect(desk.page.locator("#row-drums-kick-level")).to_have_count(0)
    expect(desk.page.locator("#too-old")).to_be_empty()


def test_an_old_answer_that_is_not_wanted_any_more_is_forgotten(demo: Demo, open_desk: OpenDesk) -> None:
    desk = open_desk(clocked=True)
    press_without_contact(demo, desk, "snare")
    demo.start()
    desk.page.clock.fast_forward(LONGEST_PAUSE_MS)

    desk.page.get_by_role("button", name="do not send it").click()
    expect(desk.page.locator("#too-old")).to_be_empty()
    desk.page.reload()

    expect(desk.line).to_have_text("live")
    assert [row["source"] for row in demo.rows()] == ["snare"]


def test_the_minutes_since_an_answer_was_pressed_are_counted_on(demo: Demo, open_desk: OpenDesk) -> None:
    desk = open_desk(clocked=True)
    press_without_contact(demo, desk, "kick")
    asked = desk.page.locator("#too-old p")
    expect(asked).to_contain_text("pressed 2 min ago")
    asked.get_by_role("button", name="do not send it").focus()

    desk.page.clock.fast_forward(TWO_MINUTES_MS)

    expect(asked).to_contain_text("pressed 4 min ago")
    expect(asked.get_by_role("button", name="do not send it")).to_be_focused()
    demo.start()


def test_an_answer_to_what_another_desk_answered_meanwhile_is_not_asked_about_but_told(
    demo: Demo, open_desk: OpenDesk
) -> None:
    desk = open_desk(clocked=True)
    request = press_without_contact(demo, desk, "kick")
    asked = desk.page.locator("#too-old p")
    expect(asked).to_contain_text("Is it still right?")

    demo.start()
    demo.answer(request)
    desk.page.clock.fast_forward(LONGEST_PAUSE_MS)

    expect(desk.line).to_have_text("live")
    expect(asked).to_contain_text("Drums, Kick")
    expect(asked).to_contain_text("It waits no more: it was answered or taken back.")
    expect(asked.get_by_role("button")).to_have_text(["do not send it"])
    asked.get_by_role("button").click()
    expect(desk.page.locator("#too-old")).to_be_empty()


def test_what_a_second_tab_sent_does_not_go_on_waiting_in_the_first(demo: Demo, open_desk: OpenDesk) -> None:
    desk = open_desk(clocked=True)
    demo.ask("drums", "kick", 1)
    desk.row("drums", "kick").is_current()
    second = desk.page.context.new_page()
    second.goto(desk.page.url)
    expect(second.locator("#line")).to_have_text("live")
    desk.page.context.route(
        "**/desk", lambda route: route.abort() if route.request.method == "POST" else route.continue_()
    )
    desk.press("Enter")
    desk.page.clock.fast_forward(LONGEST_PAUSE_MS)
    expect(desk.line).to_contain_text("1 to send")
    desk.page.context.unroute("**/desk")

    second.reload()

    expect(desk.page.locator("#row-drums-kick-level")).to_have_count(0)
    expect(desk.line).to_have_text("live")


# Last, because the show that it begins stays.
def test_an_answer_of_friday_is_told_and_never_sent_on_saturday(demo: Demo, open_desk: OpenDesk) -> None:
    desk = open_desk(clocked=True)
    asked = int(demo.ask("bass", "kick", 1).partition(".")[0].removeprefix("r"))
    desk.row("bass", "kick").is_current()
    demo.kill()
    desk.press("Enter")
    expect(desk.line).to_contain_text("1 to send")
    context = desk.page.context
    desk.page.close()

    begin_saturday(demo.folder, asked)
    demo.start()
    young = enter(context, demo.links["desk"])
    expect(young.locator("#too-old")).to_contain_text("Not sent so far, and for another show: Bass, Kick")
    young.close()
    context.clock.fast_forward(TWO_MINUTES_MS + 1000)
    page = enter(context, demo.links["desk"])

    expect(page.locator("#row-lead-lead-level")).to_be_visible()
    expect(page.locator("#line")).to_have_text("live")
    expect(page.locator("#not-sent")).to_contain_text(
        "another show, or for this one before it was restored: Bass, Kick"
    )
    assert [row["requests"] for row in demo.rows()] == [[f"r{asked}.{NEXT}.0"]]
    page.reload()
    expect(page.locator("#line")).to_have_text("live")
    expect(page.locator("#not-sent")).to_be_empty()
    assert [row["requests"] for row in demo.rows()] == [[f"r{asked}.{NEXT}.0"]]
