"""A band's whole way in a real browser: prepared from pasted lists, sound-checked, played, kept, and taken to another desk."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

from tests.browser.conftest import DESK, PATIENCE_MS, PHONE
from tests.browser.test_next_evening import describe_desk, go, sends
from tests.support.chromium import Watch
from tests.support.five_minutes import Preparing
from tests.support.hands import Phone, Row
from tests.support.monreq_process import Served, serving

Open = Callable[[Served, ViewportSize], Page]


@pytest.fixture
def open_page(browser: Browser) -> Iterator[Open]:
    """Somebody's browser at one of the laptops."""
    with ExitStack() as opened:

        def open_one(served: Served, viewport: ViewportSize) -> Page:
            watch = Watch([served.url.removeprefix("http://")])
            context = opened.enter_context(browser.new_context(viewport=viewport))
            context.set_default_timeout(PATIENCE_MS)
            watch.follow(context)
            opened.callback(lambda: check(watch))
            return context.new_page()

        yield open_one


def check(watch: Watch) -> None:
    assert watch.complaints() == []


def ids(served: Served) -> dict[str, str]:
    """Return the ids of the mixes by their names, and of the musicians by theirs."""
    mixes = served.read("/mixes")["mixes"]
    people = {who["name"]: who["musician"] for mix in mixes for who in mix["musicians"]}
    return {**people, **{mix["mix_name"]: mix["mix"] for mix in mixes}}


def source_ids(served: Served, mix: str) -> dict[str, str]:
    return {one["source_name"]: one["source"] for one in served.read(f"/mixes/{mix}")["sends"]}


def scan(open_page: Open, desk: Page, served: Served, mix: str) -> Phone:
    """Open a mix on a phone by the link under its code."""
    go(desk, "Codes")
    code = desk.locator("li.code", has=desk.get_by_role("heading", name=mix, exact=True))
    link = code.get_by_role("link").first.get_attribute("href") or ""
    page = open_page(served, PHONE)
    page.goto(served.url + "/j/" + link.rpartition("/")[2])
    page.get_by_role("button", name="yes, open my mix").click()
    phone = Phone(page)
    expect(phone.line).to_have_text("live")
    return phone


def ask_and_answer(phone: Phone, desk: Page, words: str) -> None:
    """Ask on the phone, and answer the only row at the desk by its first key."""
    phone.ask(words)
    row = desk.locator("#queue > li[data-row]")
    Row(row).is_current()
    desk.keyboard.press("Enter")
    expect(row).to_have_count(0)


def test_a_band_is_prepared_played_kept_and_starts_elsewhere_from_what_it_had(
    tmp_path: Path, open_page: Open
) -> None:
    with serving("serve", tmp_path / "home", 0) as home, serving("serve", tmp_path / "away", 0) as away:
        desk = open_page(home, DESK)
        Preparing(desk).prepare(home)
        here = ids(home)
        names = source_ids(home, here["Bass"])
        phone = scan(open_page, desk, home, "Bass")
        desk.goto(f"{home.url}/desk")

        # Soundcheck: all starts at -20 in a wedge; the bass wants more kick. Show: in a song the voice, too.
        ask_and_answer(phone, desk, "more Kick")
        desk.get_by_role("button", name="set the soundcheck mark").click()
        desk.keyboard.press("g")
        ask_and_answer(phone, desk, "more Lead voice")
        desk.keyboard.press("g")

        go(desk, "Kept")
        desk.get_by_label("the band's name").fill("Five at the harbour")
        desk.get_by_label("keep under the name").fill("Harbour stage")
        desk.get_by_role("button", name="keep", exact=True).click()
        expect(desk.get_by_role("link", name="Harbour stage").first).to_be_visible()
        go(desk, "Bands")
        with desk.expect_download() as download:
            desk.get_by_role("link", name="download its book").first.click()
        download.value.save_as(tmp_path / "band.json")

        # Elsewhere: another desk, the guitarist is missing, Bo's deputy plays the bass, the singer has ears now.
        other = open_page(away, DESK)
        other.goto(away.desk)
        other.get_by_role("button", name="open the desk").click()
        describe_desk(other)
        go(other, "Bands")
        other.locator("input[type=file]").set_input_files(tmp_path / "band.json")
        other.get_by_role("button", name="take it in").click()
        other.locator(f"select[name=musician-{here['Dee']}]").select_option(label="leave it out")
        other.locator(f"input[name=deputy-{here['Bo']}]").fill("Edda")
        other.get_by_role("button", name="go on to the levels").click()
        other.locator(f"select[name=heard-{here['Lead voice']}]").select_option(label="in-ear pair")
        other.locator(f"select[name=by-{here['Drums']}]").select_option(label="Kick")
        other.locator(f"input[name=stands-{here['Drums']}]").fill("-28")
        other.get_by_role("button", name="show what changes").click()
        expect(other.get_by_text("Left out: Dee (musician).")).to_be_visible()
        expect(other.get_by_text("Edda sits in for Bo and gets the mix.")).to_be_visible()
        other.get_by_role("button", name="enter all of this as plans").click()
        other.wait_for_url("**/desk/prepare#mixes")

        # By hand. The bass's wedge stays one: kick and voice were asked up by 3 dB from -20, the own bass began at -10.
        bass = sends(away, here["Bass"])
        assert {name: bass[names[name]][0] for name in ("Kick", "Lead voice", "Bass DI", "Snare")} == {
            "Kick": -17,
            "Lead voice": -17,
            "Bass DI": -10,
            "Snare": -20,
        }
        # The singer's wedge is a pair now: the loudest, the own voice at -10, starts at -25; all else 15 dB down too.
        lead = sends(away, here["Lead voice"])
        assert (lead[names["Lead voice"]][0], lead[names["Kick"]][0]) == (-25, -35)
        # The drummer's kick was at -25 and reads -28 on this desk: every send follows by 3 dB.
        drums = sends(away, here["Drums"])
        assert {drums[names[name]][0] for name in ("Kick", "Snare", "Lead voice")} == {-28}
        edda = scan(open_page, other, away, "Bass")
        expect(edda.page.get_by_role("heading", level=1)).to_contain_text("Bass")
