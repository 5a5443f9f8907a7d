"""The key that takes back means what this hand pressed last, on good networks and bad ones, and never another answer."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Route, expect

from tests.browser.conftest import OpenDesk
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.hands import Desk

TWO_MINUTES_MS = 120_000
"""After so long what was pressed is asked about."""


@pytest.fixture
def desk(demo: Demo, open_desk: OpenDesk) -> Desk:
    """A desk where Click in Drums was answered before, with Kick in Bass in hand."""
    desk = open_desk()
    demo.answer(demo.ask("drums", "click", -1))
    demo.ask("bass", "kick", -1)
    desk.row("bass", "kick").is_current()
    expect(desk.last_answers.first).to_contain_text("Click in Drums")
    return desk


def is_taken_back_alone(demo: Demo, desk: Desk) -> None:
    """Wait until Kick in Bass waits again, in hand, and Click in Drums is as it was."""
    expect(desk.not_sent).to_contain_text("Taken back: Bass, Kick")
    desk.row("bass", "kick").is_current()
    expect(desk.last_answers.first).to_contain_text("Click in Drums")
    assert [(row["mix"], row["source"]) for row in demo.rows()] == [("bass", "kick")]


def test_answer_without_contact_is_taken_back_and_no_older_one(demo: Demo, desk: Desk, watch: Watch) -> None:
    watch.let_contact_fail()
    desk.page.context.set_offline(True)
    desk.press("Enter")
    expect(desk.row("bass", "kick").place).to_have_attribute("aria-busy", "true")

    desk.press("u")
    expect(desk.not_sent).to_contain_text("Being taken back: Bass, Kick")
    desk.page.context.set_offline(False)

    is_taken_back_alone(demo, desk)


def test_taking_back_that_found_no_contact_for_long_is_asked_about_as_what_it_is(
    demo: Demo, open_desk: OpenDesk, watch: Watch
) -> None:
    watch.let_contact_fail()
    demo.answer(demo.ask("drums", "click", -1))
    demo.ask("bass", "kick", -1)
    desk = open_desk(clocked=True)
    desk.row("bass", "kick").is_current()
    desk.page.context.set_offline(True)
    desk.press("Enter", "u")
    expect(desk.not_sent).to_contain_text("Being taken back: Bass, Kick")

    desk.page.clock.fast_forward(TWO_MINUTES_MS + 1000)
    asked = desk.page.locator("#too-old")
    expect(asked).to_contain_text("Being taken back: Bass, Kick")
    desk.page.context.set_offline(False)
    asked.get_by_role("button", name="send it", exact=True).click()

    is_taken_back_alone(demo, desk)


def test_answer_behind_another_without_contact_is_never_sent(demo: Demo, desk: Desk, watch: Watch) -> None:
    watch.let_contact_fail()
    demo.ask("bass", "snare", -1)
    expect(desk.rows).to_have_count(2)
    desk.page.context.set_offline(True)
    desk.press("Enter", "ArrowDown", "Enter")
    expect(desk.row("bass", "snare").place).to_have_attribute("aria-busy", "true")

    desk.press("u")
    expect(desk.not_sent).to_contain_text("Taken back, never sent: Bass, Snare")
    desk.page.context.set_offline(False)

    desk.row("bass", "kick").is_gone()
    expect(desk.last_answers.first).to_contain_text("Kick in Bass")
    assert [row["source"] for row in demo.rows()] == ["snare"]


def test_answer_is_taken_back_at_once(demo: Demo, desk: Desk) -> None:
    desk.page.evaluate(
        """() => { for (const [key, code] of [["Enter", "Enter"], ["u", "KeyU"]]) document.body.dispatchEvent(
             new KeyboardEvent("keydown", { key, code, bubbles: true, cancelable: true })); }"""
    )

    is_taken_back_alone(demo, desk)


@pytest.mark.parametrize("is_recorded", [False, True], ids=["before it arrives", "before its answer arrives"])
def test_answer_on_a_slow_way_is_taken_back(demo: Demo, desk: Desk, *, is_recorded: bool) -> None:
    held = hold_back(desk, is_recorded=is_recorded)
    with desk.page.expect_request(lambda request: request.method == "POST"):
        desk.press("Enter")
    desk.press("u")
    expect(desk.not_sent).to_contain_text("Being taken back: Bass, Kick")

    held()

    is_taken_back_alone(demo, desk)


def hold_back(desk: Desk, *, is_recorded: bool) -> Callable[[], None]:
    """Hold back what is posted next, or its answer, until it is let go."""
    let_go: list[Callable[[], None]] = []

    def hold(route: Route) -> None:
        if is_recorded:
            answer = route.fetch()
            let_go.append(lambda: route.fulfill(response=answer))
        else:
            let_go.append(route.continue_)

    desk.page.route("**/desk", hold, times=1)

    def release() -> None:
        for one in let_go:
            one()

    return release
