"""A page whose connection is refused or dead: what it says of itself, and how it goes on."""

import signal
import threading
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

import pytest
from playwright.sync_api import expect
from websocket import WebSocket, WebSocketException, create_connection

from monreq.live.capacity import PER_CODE
from tests.browser.conftest import OpenContext, OpenDesk, OpenPhone, enter
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.hands import Phone

EVERY_FEW_SECONDS_MS = 5000
LOST_MS = 8000
"""After so long a page says that there is no contact."""
UNTIL_IT_IS_DEAD_MS = 9000  # what two pings that do not come take, as the server tells each page


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
        phone = Phone(enter(open_context(clocked=True), demo.links["Bass"]))
        expect(phone.line).to_have_text("looks every few seconds")

        request = demo.ask("bass", "guitar", 3)
        phone.page.clock.fast_forward(EVERY_FEW_SECONDS_MS)
        expect(phone.tape("Guitar")).to_contain_text("waiting")
        demo.answer(request)
        phone.page.clock.fast_forward(EVERY_FEW_SECONDS_MS)
        expect(phone.tape("Guitar")).to_contain_text("done")
    phone.page.clock.fast_forward(EVERY_FEW_SECONDS_MS)
    expect(phone.line).to_have_text("live")


def test_pages_say_that_a_laptop_does_not_answer_and_are_right_when_it_wakes(
    frozen: Demo, open_desk: OpenDesk, open_phone: OpenPhone, watch: Watch
) -> None:
    watch.let_contact_fail()
    desk, phone = open_desk(clocked=True), open_phone("Bass", clocked=True)
    thumb = phone.button("more Guitar")
    place = thumb.bounding_box()

    frozen.freeze()
    for screen in (desk, phone):
        screen.page.clock.fast_forward(UNTIL_IT_IS_DEAD_MS)
        expect(screen.line).to_have_text("reconnecting")
    assert thumb.bounding_box() == place
    phone.page.clock.fast_forward(LOST_MS)
    expect(phone.line).to_have_text("no contact with the desk")
    assert thumb.bounding_box() == place
    frozen.freeze(signal.SIGCONT)
    for screen in (desk, phone):
        expect(screen.line).to_have_text("live")

    frozen.ask("bass", "guitar", 3)
    phone.sees("Guitar", "+3, waiting")
