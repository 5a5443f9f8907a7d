"""A browser for all tests here, a demo's evening for each module, and people who come in by its links."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize, expect, sync_playwright

from tests.support.chromium import Watch, launch
from tests.support.demo import NAME, Demo, running_demo, set_up_demo
from tests.support.entering import let_in
from tests.support.hands import Desk, Phone

PHONE = ViewportSize(width=390, height=844)
DESK = ViewportSize(width=1440, height=900)
PATIENCE_MS = 15_000

OpenContext = Callable[..., BrowserContext]
OpenPhone = Callable[..., Phone]
OpenDesk = Callable[..., Desk]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "tests/browser/" in item.path.as_posix():
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as playwright:
        running = launch(playwright)
        yield running
        running.close()


@pytest.fixture(scope="session")
def set_up(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of an evening that was set up once for all."""
    folder = tmp_path_factory.mktemp("set-up") / "data"
    set_up_demo(folder)
    return folder


@pytest.fixture(scope="module")
def evening(tmp_path_factory: pytest.TempPathFactory, browser: Browser, set_up: Path) -> Iterator[Demo]:  # noqa: ARG001 - no browser, no demo
    folder = tmp_path_factory.mktemp("browser") / "data"
    shutil.copytree(set_up, folder)
    with running_demo(folder) as demo:
        yield demo
        assert demo.complaints == ""


@pytest.fixture
def demo(evening: Demo) -> Demo:
    """The evening with an empty queue; what was done before stays done."""
    if not evening.is_running:
        evening.start()  # the test before failed while it was killed
    evening.clear()
    return evening


@pytest.fixture
def watch(demo: Demo) -> Iterator[Watch]:
    listening = Watch(demo.origins)
    yield listening
    assert listening.complaints() == []


@pytest.fixture
def open_context(browser: Browser, watch: Watch) -> Iterator[OpenContext]:
    """Somebody's browser, which knows nothing yet; clocked, its pages' time can be let leap."""
    opened: list[BrowserContext] = []

    def open_one(
        viewport: ViewportSize = PHONE,
        *,
        scripts: bool = True,
        language: str | None = None,
        clocked: bool = False,
    ) -> BrowserContext:
        context = browser.new_context(
            viewport=viewport,
            java_script_enabled=scripts,
            color_scheme="dark",
            extra_http_headers={"Accept-Language": language} if language else {},
        )
        context.set_default_timeout(PATIENCE_MS)
        watch.follow(context)
        if clocked:
            context.clock.install()
        opened.append(context)
        return context

    yield open_one
    for context in opened:
        context.close()


def enter(context: BrowserContext, link: str, you: str | None = None) -> Page:
    """Come in by a link, as its only musician or as the one named."""
    page = context.new_page()
    page.goto(let_in(context, link, you))
    return page


@pytest.fixture
def open_phone(demo: Demo, open_context: OpenContext) -> OpenPhone:
    """A phone that came in by the link of a mix, as its only musician or as the one named."""

    def open_one(
        mix: str,
        you: str | None = None,
        *,
        viewport: ViewportSize = PHONE,
        scripts: bool = True,
        clocked: bool = False,
    ) -> Phone:
        context = open_context(viewport, scripts=scripts, clocked=clocked)
        phone = Phone(enter(context, demo.links[mix], you))
        expect(phone.line).to_have_text("live" if scripts else "")
        return phone

    return open_one


@pytest.fixture
def open_desk(demo: Demo, open_context: OpenContext) -> OpenDesk:
    """A desk that came in by its link: on the laptop itself, or on another machine."""

    def open_one(*, elsewhere: bool = False, scripts: bool = True, clocked: bool = False) -> Desk:
        link = demo.links["desk"]
        context = open_context(DESK, scripts=scripts, clocked=clocked)
        desk = Desk(enter(context, link.replace("127.0.0.1", NAME) if elsewhere else link))
        expect(desk.line).to_have_text("live" if scripts else "")
        return desk

    return open_one
