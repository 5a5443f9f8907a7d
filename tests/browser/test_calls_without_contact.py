"""A call from a phone without Wi-Fi: what to do stands there at once, and that nobody at the desk knows yet."""

import pytest
from playwright.sync_api import Locator, ViewportSize, expect

from tests.browser.conftest import PHONE, OpenDesk, OpenPhone
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.hands import Phone

NARROW = ViewportSize(width=320, height=640)
IS_SEEN = """(line) => {
  const { left, right, top, bottom } = line.getBoundingClientRect();
  const at = document.elementsFromPoint.bind(document);
  const [pointed] = [line.style.pointerEvents, (line.style.pointerEvents = "auto")];
  const onTop = [[right - 20, top + 2], [right - 20, bottom - 2]].every(([x, y]) => at(x, y)[0] === line);
  line.style.pointerEvents = pointed;
  return onTop && left >= 0 && line.scrollWidth <= line.clientWidth;
}"""


@pytest.fixture
def phone(open_phone: OpenPhone, watch: Watch) -> Phone:
    watch.let_contact_fail()
    return open_phone("Lead voice")


def unsent(phone: Phone) -> Locator:
    return phone.page.locator("#unsent-calls")


def go_offline(phone: Phone, *, is_offline: bool = True) -> None:
    phone.page.context.set_offline(is_offline)


@pytest.mark.parametrize(
    ("call", "advice"),
    [
        ("hurts", "Step away from the wedge."),
        ("squeal", "Step back from the wedge; keep the mic off it."),
        ("nothing", "Check the wedge: power? cable?"),
        ("talk", ""),
    ],
)
def test_call_without_contact_says_what_to_do_and_becomes_the_call_that_waits(
    demo: Demo, phone: Phone, call: str, advice: str
) -> None:
    go_offline(phone)

    phone.call(call)

    expect(unsent(phone)).to_have_text(f"Not sent yet: {call}. Shout or wave.{advice}")
    assert demo.rows() == []
    go_offline(phone, is_offline=False)
    expect(phone.calls).to_contain_text(f"Desk called: {call}{advice}")
    expect(unsent(phone)).to_be_empty()
    assert [row["urgent"] for row in demo.rows()] == [call]


def test_in_ears_without_contact_are_told_to_turn_down_or_take_both_out(
    open_phone: OpenPhone, watch: Watch
) -> None:
    watch.let_contact_fail()
    phone = open_phone("Drums")
    go_offline(phone)

    phone.call("hurts")

    expect(unsent(phone)).to_contain_text("Turn the pack down or take BOTH out.")
    go_offline(phone, is_offline=False)
    expect(phone.calls).to_contain_text("Desk called: hurts")


def test_call_without_contact_is_not_told_as_done(phone: Phone, open_desk: OpenDesk) -> None:
    desk = open_desk()
    phone.call("talk")
    expect(desk.rows).to_have_count(1)
    expect(desk.page.locator("#queue .settling")).to_have_count(0)
    desk.press("Enter")
    expect(phone.calls.get_by_text("Your call: done")).to_be_visible()
    go_offline(phone)

    phone.call("hurts")

    expect(unsent(phone)).to_contain_text("Not sent yet: hurts.")
    expect(phone.calls.get_by_text("Your call: done")).to_be_hidden()
    go_offline(phone, is_offline=False)
    expect(phone.calls).to_contain_text("Desk called: hurts")


@pytest.mark.parametrize("viewport", [PHONE, NARROW])
def test_note_does_not_cover_that_there_is_no_contact(
    demo: Demo, open_phone: OpenPhone, open_desk: OpenDesk, watch: Watch, viewport: ViewportSize
) -> None:
    watch.let_contact_fail()
    phone, desk = open_phone("Lead voice", viewport=viewport), open_desk()
    thumb = phone.page.locator(".amounts label").first
    before = thumb.bounding_box()
    desk.page.get_by_label("note to", exact=True).select_option(label="Lead voice")
    desk.page.get_by_role("button", name="two minutes", exact=True).click()
    expect(phone.page.locator("#told")).to_contain_text("two minutes")

    go_offline(phone)
    phone.call("hurts")

    expect(phone.line).to_contain_text("1 to send")
    expect(phone.line).to_have_attribute("data-trouble", "1")
    assert phone.line.evaluate(IS_SEEN)
    assert thumb.bounding_box() == before
    go_offline(phone, is_offline=False)
    expect(phone.calls).to_contain_text("Desk called: hurts")
    phone.button("ok").click()
    expect(phone.page.locator("#told")).to_be_empty()
    assert demo.rows() != []
