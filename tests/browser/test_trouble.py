"""What is wrong with the laptop stands on the desk's open page by itself, and leaves it when it is over."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
import requests
from playwright.sync_api import Browser, Locator, expect

from monreq.cli import demo_show
from tests.browser.conftest import DESK
from tests.support.disks import fill, small_disk
from tests.support.entering import let_in
from tests.support.festival import festival_at
from tests.support.links import own_link
from tests.support.monreq_process import Served, serving, token_in
from tests.support.workers import free_port, redis_server

pytestmark = pytest.mark.faults

MIXES = len(demo_show.MIXES)
PATIENCE_MS = 30_000


@contextmanager
def lines_at_the_desk(browser: Browser, link: str) -> Iterator[Locator]:
    """The lines about the laptop on a desk's page that is open, live and well."""
    context = browser.new_context(viewport=DESK)
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    page.goto(let_in(context, link))
    expect(page.locator("#line")).to_have_text("live", timeout=PATIENCE_MS)
    lines = page.locator("#health")
    expect(lines).to_have_text("")
    yield lines
    context.close()


def told(lines: Locator, words: str) -> None:
    expect(lines).to_contain_text(words, timeout=PATIENCE_MS)


def over(lines: Locator) -> None:
    expect(lines).to_have_text("", timeout=PATIENCE_MS)


def ask(served: Served, client_id: str) -> int:
    body = {"client_id": client_id, "kind": "sound", "source": "kick", "words": "boomy " * 20}
    return served.api("/mixes/bass/requests", token_in(served.phones["Bass"]), body).status_code


@pytest.mark.parametrize(
    ("part", "words"),
    [("monreq.sqlite", "The database's file is gone."), ("monreq.sqlite-wal", "that ends in -wal is gone")],
)
def test_file_that_is_gone_is_told_until_it_is_back(
    browser: Browser, tmp_path: Path, part: str, words: str
) -> None:
    with (
        serving("demo", tmp_path / "data", MIXES, "--still") as served,
        lines_at_the_desk(browser, served.desk) as lines,
    ):
        (tmp_path / "data" / part).rename(tmp_path / "away")
        told(lines, words)
        ready = requests.get(f"{served.url}/healthz", timeout=PATIENCE_MS)

        (tmp_path / "away").rename(tmp_path / "data" / part)
        over(lines)
        errors = served.stop().errors

    assert (ready.status_code, "storage" in ready.json()["troubles"]) == (503, True)
    said = [line.partition("trouble")[2] for line in errors.splitlines() if "storage" in line]
    assert [said[0].startswith(": storage The "), said[1:]] == [True, [" is over: storage"]]


def test_disk_that_is_full_is_told_until_there_is_room(browser: Browser, tmp_path: Path) -> None:
    with (
        small_disk(tmp_path / "disk", 60) as disk,
        serving("demo", disk / "data", MIXES, "--still") as served,
        lines_at_the_desk(browser, served.desk) as lines,
    ):
        ballast = fill(disk)
        number = 0
        while ask(served, f"ask-{number}") == 201:
            number += 1
        told(lines, "Nothing can be stored now: The disk is full.")

        ballast.unlink()
        over(lines)


def test_redis_that_is_gone_is_told_until_it_is_back(browser: Browser, tmp_path: Path) -> None:
    port = free_port()
    with (
        redis_server(port) as redis,
        festival_at(tmp_path, f"redis://127.0.0.1:{port}/0") as two,
        lines_at_the_desk(browser, f"{two.one.url}/j/{token_in(two.one.links['desk'])}") as lines,
    ):
        redis.kill()
        redis.wait()
        told(lines, "Redis does not answer")

        with redis_server(port):
            over(lines)


def test_address_that_codes_carry_and_the_laptop_lost_is_told_until_it_has_it_again(
    browser: Browser, tmp_path: Path
) -> None:
    with own_link() as link:
        before = link.here
        words = ("--still", "--host", "0.0.0.0", "--address", before)  # noqa: S104 - reached by the link too
        with (
            serving("demo", tmp_path / "data", MIXES, *words) as served,
            lines_at_the_desk(browser, served.desk) as lines,
        ):
            lines.page.goto(f"{served.url}/desk/codes")
            lines.page.goto(f"{served.url}/desk")
            expect(lines.page.locator("#line")).to_have_text("live")
            link.move(35)
            told(lines, f"Codes point to {before}, this laptop is now")

            link.move(int(before.rpartition(".")[2]))
            over(lines)


def test_clock_that_was_set_is_told(browser: Browser, tmp_path: Path) -> None:
    through = (sys.executable, "-m", "tests.support.odd_clock")
    with (
        serving("demo", tmp_path / "data", MIXES, "--still", through=through) as served,
        lines_at_the_desk(browser, served.desk) as lines,
    ):
        (tmp_path / "off-by").write_text("3600", "ascii")

        told(lines, "The laptop slept, or its clock was set: +3600 s.")
