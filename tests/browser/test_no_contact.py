"""A page whose connection is refused or dead: what it says of itself, and how it goes on."""

import signal
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

import pytest
from playwright.sync_api import expect
from websocket import WebSocket, WebSocketException, create_connection

from monreq.live.capacity import PER_CODE
from tests.browser.conftest import OpenContext, OpenDesk, OpenPhone
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.hands import Phone

SOON_MS = 20_000


@contextmanager
def pages_open(demo: Demo, mix: str, count: int) -> Iterator[None]:
    """Hold so many live connections with a mix's code, as further pages of it do."""
    token = demo.links[mix].rpartition("/")[2]
    with ExitStack() as held:
        for _ in range(count):
            page = create_connection(
                f"ws://127.0.0.1:{demo.port}/socket.io/?EIO=4&transport=websocket", timeout=60
            )
            held.callback(page.shutdown)
            page.send(f'40/phone,{{"token":"{token}"}}')
            while not str(page.recv()).startswith("40/phone,"):
                pass
            threading.Thread(target=stay, args=(page,), daemon=True).start()
        yield


def stay(page: WebSocket) -> None:
    """Answer pings until the connection ends."""
    try:
        while True:
            if page.recv() == "2":
                page.send("3")
    except (WebSocketException, OSError):
        return


@pytest.fixture
def frozen(demo: Demo) -> Iterator[Demo]:
    yield demo
    demo.freeze(signal.SIGCONT)


def test_page_that_finds_no_room_says_so_and_reads_every_few_seconds(
    demo: Demo, open_context: OpenContext, watch: Watch
) -> None:
    watch.let_contact_fail()
    with pages_open(demo, "Bass", PER_CODE):
        page = open_context().new_page()
        page.goto(demo.links["Bass"])
        page.get_by_role("button", name="yes, open my mix").click()
        phone = Phone(page)
        expect(phone.line).to_have_text("looks every few seconds", timeout=SOON_MS)

        request = demo.ask("bass", "guitar", 3)
        expect(phone.tape("Guitar")).to_contain_text("waiting", timeout=SOON_MS)
        demo.answer(request)
        expect(phone.tape("Guitar")).to_contain_text("done", timeout=SOON_MS)
    expect(phone.line).to_have_text("live", timeout=SOON_MS)


def test_pages_say_that_a_laptop_does_not_answer_and_are_right_when_it_wakes(
    frozen: Demo, open_desk: OpenDesk, open_phone: OpenPhone, watch: Watch
) -> None:
    watch.let_contact_fail()
    desk, phone = open_desk(), open_phone("Bass")

    frozen.freeze()
    for line in (desk.line, phone.line):
        expect(line).to_have_text("reconnecting", timeout=SOON_MS)
    frozen.freeze(signal.SIGCONT)
    for line in (desk.line, phone.line):
        expect(line).to_have_text("live", timeout=SOON_MS)

    frozen.ask("bass", "guitar", 3)
    phone.sees("Guitar", "+3, waiting")
