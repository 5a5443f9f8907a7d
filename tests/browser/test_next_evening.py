"""From one evening to the next in a real browser: played, kept, carried on a stick, opened on another laptop and desk."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import DESK, PATIENCE_MS, OpenDesk, OpenPhone
from tests.support.chromium import Watch
from tests.support.demo import Demo
from tests.support.monreq_process import Served, serving


@pytest.fixture
def elsewhere(tmp_path: Path) -> Iterator[Served]:
    """Another laptop, which knows nothing yet."""
    with serving("serve", tmp_path / "elsewhere", 0) as served:
        yield served


@pytest.fixture
def other_desk(browser: Browser, elsewhere: Served) -> Iterator[Page]:
    watch = Watch([elsewhere.url.removeprefix("http://")])
    context = browser.new_context(viewport=DESK)
    context.set_default_timeout(PATIENCE_MS)
    watch.follow(context)
    page = context.new_page()
    page.goto(elsewhere.desk)
    page.get_by_role("button", name="open the desk").click()
    yield page
    context.close()
    assert watch.complaints() == []


def keep_and_download(demo: Demo, open_desk: OpenDesk, open_phone: OpenPhone, book: Path) -> None:
    """Play a song in which the bass wants more kick, keep every mix, and take the book along.

    What lasted is proposed of each mix; the bass's own new level did not, and is kept as it stands.
    """
    phone = open_phone("Bass")
    desk = open_desk()
    phone.ask("more Kick")
    desk.row("bass", "kick").is_current()
    desk.press("Enter")
    desk.row("bass", "kick").is_gone()
    assert demo.level("bass", "kick") == -5
    go(desk.page, "Afterwards")
    desk.page.get_by_label("keep under the name").fill("Otterfold")
    for mix in ("Lead voice", "Horns", "Drums", "Accordion", "Guitar"):
        desk.page.get_by_role("checkbox", name=mix, exact=True).check()
    desk.page.get_by_role("checkbox", name="Bass", exact=True).uncheck()
    desk.page.get_by_role("button", name="keep those ticked").click()
    desk.page.goto(f"http://{demo.origins[0]}/desk/mix/bass")
    kept = desk.page.locator("#keep")
    kept.get_by_role("textbox").first.fill("Otterfold")
    kept.get_by_role("button", name="keep as it stands now").click()
    go(desk.page, "Bands")
    with desk.page.expect_download() as download:
        desk.page.get_by_role("link", name="download its book").first.click()
    download.value.save_as(book)


def go(page: Page, name: str) -> None:
    page.get_by_role("navigation", name="Desk").get_by_role("link", name=name, exact=True).click()


def describe_desk(page: Page) -> None:
    """Say that this desk has four mono auxes and four stereo ones."""
    auxes = page.locator("#auxes")
    auxes.get_by_label("mono auxes", exact=True).fill("4")
    auxes.get_by_label("stereo auxes").fill("4")
    auxes.get_by_role("button", name="save the desk").click()


def sends(served: Served, mix: str) -> dict[str, tuple[float | None, float | None]]:
    answer = served.read(f"/mixes/{mix}")
    return {one["source"]: (one["level_db"], one["pan"]) for one in answer["sends"]}


def test_next_evening_starts_from_what_was_kept_on_another_desk(  # noqa: PLR0917
    demo: Demo,
    open_desk: OpenDesk,
    open_phone: OpenPhone,
    other_desk: Page,
    elsewhere: Served,
    tmp_path: Path,
) -> None:
    keep_and_download(demo, open_desk, open_phone, tmp_path / "band.json")
    page = other_desk
    describe_desk(page)

    go(page, "Bands")
    page.locator("input[type=file]").set_input_files(tmp_path / "band.json")
    page.get_by_role("button", name="take it in").click()
    page.locator("select[name=musician-sax]").select_option(label="leave it out")
    page.locator("input[name=deputy-bass]").fill("Edda")
    page.get_by_role("button", name="go on to the levels").click()
    page.locator("select[name=heard-lead]").select_option(label="in-ear pair")
    page.locator("select[name=by-drums]").select_option(label="Kick")
    page.locator("input[name=stands-drums]").fill("-12")
    page.get_by_role("button", name="show what changes").click()
    expect(page.get_by_text("Left out: Saxophone (musician).")).to_be_visible()
    expect(page.get_by_text("Edda sits in for Bass and gets the mix.")).to_be_visible()
    page.get_by_role("button", name="enter all of this as plans").click()
    page.wait_for_url("**/desk/prepare#mixes")

    # By hand. The bass kept its kick at -8 + 3 = -5 in its wedge: it starts there.
    assert sends(elsewhere, "bass")["kick"] == (-5, None)
    # The singer's wedge is a pair now: its loudest, the voice at -1, starts at -25, so that all is 24 dB down.
    # The guitar stands 2 m to the audience's left and 1.2 m behind: 0.6 * 2 / sqrt(2^2 + 1.2^2) = 0.51 to the right.
    lead = sends(elsewhere, "lead")
    assert (lead["lead"], lead["kick"], lead["guitar"]) == ((-25, 0), (-42, 0), (-40, 0.51))
    # The drummer's kick was -9 and reads -12 on this desk: all sends follow by 3 dB, click from -14 + 3 to -14.
    drums = sends(elsewhere, "drums")
    assert (drums["kick"], drums["bass"], drums["click"]) == ((-12, 0), (-13, 0), (-14, 0))
    mixes = {one["mix"]: one for one in elsewhere.read("/mixes")["mixes"]}
    assert [one["name"] for one in mixes["bass"]["musicians"]] == ["Edda"]
    assert [one["name"] for one in mixes["horns"]["musicians"]] == ["Trumpet"]
    assert mixes["lead"]["output"] == "in_ear_pair"
