"""A phone that slept, lost its network or its answers: right again at once, and nothing is sent twice."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, Route, WebSocketRoute, expect

from tests.browser.conftest import OpenContext, OpenPhone
from tests.support.chromium import Watch
from tests.support.demo import NAME, Demo
from tests.support.hands import Phone

HIDE = """(isHidden) => {
  Object.defineProperty(document, "hidden", { value: isHidden, configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));
}"""
LEAP_A_MINUTE = "{ const real = Date.now; Date.now = () => real() + 60000; }"


class DeafSocket:
    """A live connection that looks open, while nothing comes through any more."""

    def __init__(self) -> None:
        self.is_deaf = False

    def carry(self, to_page: WebSocketRoute) -> None:
        """Stand between a page and the server; a connection made after the sleep is a good one."""
        is_old = not self.is_deaf
        to_server = to_page.connect_to_server()

        def pass_on(message: str | bytes) -> None:
            if not (is_old and self.is_deaf):
                to_page.send(message)

        to_server.on_message(pass_on)


@pytest.fixture
def socket() -> DeafSocket:
    return DeafSocket()


@pytest.fixture
def sleeper(demo: Demo, open_context: OpenContext, socket: DeafSocket) -> Phone:
    """A phone of the bass player whose live connection goes deaf when it sleeps."""
    page = open_context().new_page()
    page.route_web_socket("**/socket.io/**", socket.carry)
    page.goto(demo.links["Bass"])
    page.get_by_role("button", name="yes, open my mix").click()
    phone = Phone(page)
    expect(phone.line).to_have_text("live")
    return phone


def _come_back_into_view(page: Page) -> None:
    page.evaluate(HIDE, arg=False)


def _go_on_after_a_minute(page: Page) -> None:
    page.evaluate(LEAP_A_MINUTE)


@pytest.mark.parametrize("wake", [_come_back_into_view, _go_on_after_a_minute])
def test_phone_that_slept_is_right_after_waking(
    demo: Demo, sleeper: Phone, socket: DeafSocket, wake: Callable[[Page], None]
) -> None:
    request = demo.ask("bass", "kick", 3)
    sleeper.sees("Kick", "+3, waiting")
    sleeper.page.evaluate(HIDE, arg=wake is _come_back_into_view)
    socket.is_deaf = True
    demo.answer(request, done_db=1)
    demo.ask("bass", "snare", 3)

    wake(sleeper.page)

    sleeper.sees("Kick", "asked +3, done +1")
    sleeper.sees("Snare", "+3, waiting")
    expect(sleeper.line).to_have_text("live")


def test_phone_that_slept_gets_pushes_again(demo: Demo, sleeper: Phone, socket: DeafSocket) -> None:
    socket.is_deaf = True
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
    page = open_context().new_page()
    lost: list[int] = []

    def lose_the_answer(route: Route) -> None:
        if route.request.method == "POST" and not lost:
            lost.append(route.fetch().status)
            route.abort()
        else:
            route.continue_()

    page.goto(demo.links["Bass"].replace(NAME, "127.0.0.1"))
    page.get_by_role("button", name="yes, open my mix").click()
    page.route("**/mix/bass", lose_the_answer)
    phone = Phone(page)

    with page.expect_event("requestfailed"):
        phone.ask("more Trumpet")

    phone.sees("Trumpet", "+3, waiting")
    expect(phone.button("more Trumpet")).not_to_contain_class("sent")
    assert lost == [201]
    assert demo.row("bass", "trumpet")["asked"] == 1
