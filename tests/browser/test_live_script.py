"""The browser's script in a real browser, against the real program: sending, pushes, typing, keys, codes."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.support.demo_server import DemoServer

pytestmark = pytest.mark.browser

SINGER = "Lead voice"
DESK_SIZE, PHONE_SIZE = (1280, 800), (390, 780)


@pytest.fixture
def server(tmp_path: Path) -> Iterator[DemoServer]:
    server = DemoServer(tmp_path / "demo")
    server.start()
    yield server
    server.kill()


@pytest.fixture
def desk(browser: Browser, server: DemoServer) -> Iterator[Page]:
    yield from opened(browser, server, "", DESK_SIZE)


@pytest.fixture
def phone(browser: Browser, server: DemoServer) -> Iterator[Page]:
    yield from opened(browser, server, SINGER, PHONE_SIZE)


def opened(browser: Browser, server: DemoServer, name: str, size: tuple[int, int]) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": size[0], "height": size[1]})
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda said: faults.append(said.text) if "Security Policy" in said.text else None)
    page.goto(server.url(server.links[name]))
    page.locator("button").first.click()
    expect_live(page)
    yield page
    assert faults == []
    context.close()


def expect_live(page: Page) -> None:
    expect(page.locator("#line")).to_have_text("live", timeout=20_000)


def more(phone: Page, place: int) -> Locator:
    return phone.locator("#strips button[value^='more:']").nth(place)


def rows(desk: Page) -> Locator:
    return desk.locator("#queue > li[data-row]")


def current(desk: Page) -> Locator:
    return desk.locator("#queue > li.now")


def ask(phone: Page, desk: Page, *places: int) -> None:
    """Ask for more of some strips, in turn, and wait until each is a row."""
    for place in places:
        before = rows(desk).count()
        more(phone, place).click()
        expect(rows(desk)).to_have_count(before + 1)


def test_phone_and_desk_see_each_other_without_loading_again(phone: Page, desk: Page) -> None:
    more(phone, 0).click()

    expect(current(desk).locator(".sum")).to_have_text("+3")
    expect(current(desk).locator("time")).to_have_text("now")
    expect(phone.locator("#strips > li").first).to_contain_text("waiting")
    desk.keyboard.press("Enter")
    expect(rows(desk)).to_have_count(0)
    expect(phone.locator("#strips > li").first).to_contain_text("done +3")


def test_phone_sends_what_was_asked_while_the_server_was_gone(
    server: DemoServer, phone: Page, desk: Page
) -> None:
    server.kill()
    more(phone, 0).click()
    more(phone, 1).click()
    expect(phone.locator("#line")).to_contain_text("2 to send")
    expect(more(phone, 0)).to_have_class("sent")

    server.start()

    expect(rows(desk)).to_have_count(2, timeout=20_000)
    expect_live(phone)
    expect(rows(desk).locator(".sum")).to_have_text(["+3", "+3"])
    expect(phone.locator("button.sent")).to_have_count(0)


def test_phone_loaded_again_still_sends_what_waited(server: DemoServer, phone: Page, desk: Page) -> None:
    server.kill()
    more(phone, 0).click()
    expect(phone.locator("#line")).to_contain_text("1 to send")

    server.start()
    phone.reload()

    expect(rows(desk).locator(".sum")).to_have_text(["+3"], timeout=20_000)
    expect_live(phone)


def test_phone_tapped_twice_by_a_slip_asks_once(phone: Page, desk: Page) -> None:
    more(phone, 0).dblclick()
    ask(phone, desk, 1)

    expect(rows(desk).locator(".sum")).to_have_text(["+3", "+3"])


def test_phone_whose_token_is_stale_gets_another_and_sends(phone: Page, desk: Page) -> None:
    phone.locator("input[name=csrf_token]").evaluate("field => { field.value = 'stale'; }")

    more(phone, 0).click()

    expect(rows(desk)).to_have_count(1)
    expect(phone.locator("#not-sent")).to_be_empty()


def test_phone_that_missed_a_push_reads_its_mix_again(phone: Page, desk: Page) -> None:
    ask(phone, desk, 0)
    phone.context.set_offline(True)
    desk.keyboard.press("Enter")
    expect(rows(desk)).to_have_count(0)

    phone.context.set_offline(False)

    expect(phone.locator("#strips > li").first).to_contain_text("done +3", timeout=20_000)
    expect_live(phone)


def test_phone_keeps_an_open_fold_when_its_strip_changes(phone: Page) -> None:
    phone.locator("#strips summary").first.click()

    phone.locator("#strips button[value^='sound-muddy:']").first.click()

    expect(phone.locator("#strips > li").first).to_contain_text("muddy: waiting")
    expect(phone.locator("#strips details[open]")).to_have_count(1)


def test_phone_keeps_the_amount_that_was_chosen_last(phone: Page) -> None:
    phone.locator("label[for=amount-lot]").click()

    phone.reload()

    expect(phone.locator("#amount-lot")).to_be_checked()


@pytest.mark.security
def test_phone_with_a_replaced_code_says_so_at_once(server: DemoServer, phone: Page, desk: Page) -> None:
    codes = desk.context.new_page()
    codes.goto(server.url("/desk/codes"))

    codes.get_by_text("replace this code").first.click()

    expect(phone.locator("body")).to_contain_text("This code was replaced")
    expect(phone.locator("#strips")).to_have_count(0)
    expect_live(desk)


def test_desk_keeps_what_is_being_typed_while_its_row_changes(phone: Page, desk: Page) -> None:
    ask(phone, desk, 0, 1)
    desk.keyboard.press("+")
    desk.keyboard.type("2")
    more(phone, 0).click()
    expect(current(desk).locator(".sum")).to_have_text("+6")

    desk.keyboard.press("Enter")

    expect(desk.locator("#decisions > li").first).to_contain_text("done +2")
    expect(rows(desk)).to_have_count(1)


def test_desk_stays_on_its_row_when_another_arrives_above(phone: Page, desk: Page) -> None:
    ask(phone, desk, 2)
    name = current(desk).locator(".tape").inner_text()

    ask(phone, desk, 0)

    expect(current(desk)).to_have_count(1)
    expect(current(desk).locator(".tape")).to_have_text(name)


def call(phone: Page, name: str) -> None:
    phone.locator("details.call > summary").click()
    phone.locator(f"button[value='call-{name}:']").click()


def test_desk_goes_to_an_urgent_call(phone: Page, desk: Page) -> None:
    ask(phone, desk, 0, 1)

    call(phone, "hurts")

    expect(current(desk)).to_contain_text("HURTS")


def test_desk_that_is_typing_stays_while_an_urgent_call_comes(phone: Page, desk: Page) -> None:
    ask(phone, desk, 0, 1)
    name = current(desk).locator(".tape").inner_text()
    desk.keyboard.press("4")

    call(phone, "talk")

    expect(desk.locator("#queue > li.urgent")).to_have_count(1)
    expect(current(desk).locator(".tape")).to_have_text(name)
    expect(current(desk).locator("input[name$='-figure']")).to_be_focused()


def test_desk_key_held_down_answers_one_row(phone: Page, desk: Page) -> None:
    ask(phone, desk, 0, 1, 2)

    for _ in range(3):
        desk.keyboard.down("Enter")
    desk.keyboard.up("Enter")

    expect(rows(desk)).to_have_count(2)
    desk.keyboard.press("s")
    expect(desk.locator("#queue > li.aside")).to_have_count(1)
    expect(rows(desk)).to_have_count(2)


def test_desk_answers_undoes_sets_aside_and_refuses_by_keys(phone: Page, desk: Page) -> None:
    ask(phone, desk, 0)

    desk.keyboard.press("Enter")
    expect(rows(desk)).to_have_count(0)
    desk.keyboard.press("u")
    expect(rows(desk)).to_have_count(1)
    desk.keyboard.press("s")
    expect(desk.locator("#queue > li.aside")).to_have_count(1)
    desk.keyboard.press("j")
    desk.keyboard.press("x")
    desk.keyboard.press("Enter")

    expect(rows(desk)).to_have_count(0)
    expect(desk.locator("#decisions > li").first).to_contain_text("not done")


def test_desk_with_a_figure_that_is_none_says_so_and_keeps_it(phone: Page, desk: Page) -> None:
    ask(phone, desk, 0)
    desk.keyboard.press("+")
    desk.keyboard.type("x")

    desk.keyboard.press("Enter")

    expect(desk.locator("#not-sent")).to_contain_text("Type the change")
    expect(current(desk).locator("input[name$='-figure']")).to_have_value("+x")
    desk.keyboard.press("Escape")
    desk.keyboard.press("Enter")
    expect(desk.locator("#not-sent")).to_be_empty()


def test_desk_that_is_second_to_answer_is_told(
    browser: Browser, server: DemoServer, phone: Page, desk: Page
) -> None:
    ask(phone, desk, 0)
    desk.context.set_offline(True)
    desk.keyboard.press("Enter")
    expect(desk.locator("#line")).to_contain_text("1 to send")
    for other in opened(browser, server, "", DESK_SIZE):
        other.keyboard.press("Enter")
        expect(rows(other)).to_have_count(0)

    desk.context.set_offline(False)

    expect(desk.locator("#not-sent")).to_contain_text("Nothing was changed", timeout=20_000)
    expect(phone.locator("#strips > li").first).to_contain_text("done +3")
