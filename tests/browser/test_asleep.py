"""A phone that slept, lost its network or its answers: right again at once, and nothing is sent twice."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import OpenContext, OpenPhone, enter
from tests.support.chromium import Watch
from tests.support.demo import NAME, Demo
from tests.support.hands import Phone

HIDE = """(isHidden) => {
  Object.defineProperty(document, "hidden", { value: isHidden, configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));
}"""
LEAP_A_MINUTE = "{ const real = Date.now; Date.now = () => real() + 60000; }"


# Kept in the page: a hand in between would carry each message only while the test waits for something.
DEAFENED = """{
  const opened = [];
  window.WebSocket = class extends WebSocket {
    constructor(...given) {
      super(...given);
      opened.push(this);
      this.addEventListener("message", (event) => this.isDeaf && event.stopImmediatePropagation());
    }
  };
  window.deafen = () => opened.forEach((one) => (one.isDeaf = true));
}"""


def deafen(phone: Phone) -> None:
    """Let its live connection look open, while nothing comes through any more; one that it makes later is a good one."""
    phone.page.evaluate("deafen()")


@pytest.fixture
def sleeper(demo: Demo, open_context: OpenContext) -> Phone:
    """A phone of the bass player whose live connection can go deaf."""
    context = open_context()
    context.add_init_script(DEAFENED)
    phone = Phone(enter(context, demo.links["Bass"]))
    expect(phone.line).to_have_text("live")
    return phone


def _come_back_into_view(page: Page) -> None:
    page.evaluate(HIDE, arg=False)


def _go_on_after_a_minute(page: Page) -> None:
    page.evaluate(LEAP_A_MINUTE)


@pytest.mark.parametrize("wake", [_come_back_into_view, _go_on_after_a_minute])
def test_phone_that_slept_is_right_after_waking(
    demo: Demo, sleeper: Phone, wake: Callable[[Page], None]
) -> None:
    request = demo.ask("bass", "kick", 3)
    sleeper.sees("Kick", "+3, waiting")
    if wake is _come_back_into_view:
        sleeper.page.evaluate(HIDE, arg=True)
    deafen(sleeper)
    demo.answer(request, done_db=1)
    demo.ask("bass", "snare", 3)

    wake(sleeper.page)

    sleeper.sees("Kick", "asked +3, done +1")
    sleeper.sees("Snare", "+3, waiting")
    expect(sleeper.line).to_have_text("live")


def test_phone_that_slept_gets_pushes_again(demo: Demo, sleeper: Phone) -> None:
    deafen(sleeper)
    _go_on_after_a_minute(sleeper.page)
    demo.ask("bass", "lead", 3)
    sleeper.sees("Lead voice", "+3, waiting")

    demo.clear()

    sleeper.sees("Lead voice")


def test_phone_without_network_is_right_when_it_comes_back(
    demo: Demo, open_phone: OpenPhone, watch: Watch
) -> None:
    watch.let_contact_fail()
    phone = open_phone("Bass")
    request = demo.ask("bass", "guitar", 3)
    phone.sees("Guitar", "+3, waiting")
    phone.page.context.set_offline(True)
    phone.ask("less Accordion")
    expect(phone.line).to_contain_text("1 to send")
    demo.answer(request)

    phone.page.context.set_offline(False)

    phone.sees("Guitar", "done +3")
    phone.sees("Accordion", "-3, waiting")
    expect(phone.line).to_have_text("live")
    assert demo.row("bass", "accord")["asked"] == 1


def test_ask_whose_answer_was_lost_counts_once(demo: Demo, open_context: OpenContext, watch: Watch) -> None:
    watch.let_contact_fail()
    page = enter(open_context(), demo.links["Bass"].replace(NAME, "127.0.0.1"))
    lost: list[int] = []

    def lose_the_answer(route: Route) -> None:
        lost.append(route.fetch().status)
        route.abort()

    page.route("**/mix/bass", lose_the_answer, times=1)  # the first, which is the ask
    phone = Phone(page)

    with page.expect_event("requestfailed"):
        phone.ask("more Trumpet")

    phone.sees("Trumpet", "+3, waiting")
    expect(phone.button("more Trumpet")).not_to_contain_class("sent")
    assert lost == [201]
    assert demo.row("bass", "trumpet")["asked"] == 1
