"""From an empty data folder to printed cards: as few actions as the page says, and a show that is ready."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import DESK, PATIENCE_MS
from tests.support.chromium import Watch
from tests.support.codes import codes_in, page_pictures, page_texts
from tests.support.five_minutes import AIM, TABLE, Preparing, actions, page_of
from tests.support.monreq_process import Served, serving
from tests.support.serving import ROOT


@pytest.fixture
def nothing_yet(tmp_path: Path) -> Iterator[Served]:
    with serving("serve", tmp_path / "data", 0) as served:
        yield served


@pytest.fixture
def hands(browser: Browser, nothing_yet: Served) -> Iterator[Preparing]:
    watch = Watch([nothing_yet.url.removeprefix("http://")])
    context = browser.new_context(viewport=DESK)
    context.set_default_timeout(PATIENCE_MS)
    watch.follow(context)
    yield Preparing(context.new_page())
    context.close()
    assert watch.complaints() == []


def test_a_band_of_five_is_prepared_with_what_the_page_says(hands: Preparing, nothing_yet: Served) -> None:
    cards = hands.prepare(nothing_yet)

    assert actions(hands.steps) < AIM
    assert page_of(hands.steps) == TABLE.read_text(encoding="utf-8")
    links = {code for picture in page_pictures(cards, 6.0) for code in codes_in(picture) if "/j/" in code}
    assert len(links) == 5
    text = "".join(page_texts(cards))
    assert all(name in text for name in ("Ada", "Bo", "Cy", "Dee", "Eva", "Harbour stage"))


def test_what_was_prepared_is_ready_for_the_soundcheck(hands: Preparing, nothing_yet: Served) -> None:
    hands.prepare(nothing_yet)

    mixes = {one["mix_name"]: one for one in nothing_yet.read("/mixes")["mixes"]}
    sends = {
        one["source_name"]: one["level_db"]
        for one in nothing_yet.read(f"/mixes/{mixes['Bass']['mix']}")["sends"]
    }
    assert [(name, one["output"]) for name, one in mixes.items()] == [
        ("Lead voice", "wedge"),
        ("Bass", "wedge"),
        ("Drums", "in_ear_pair"),
        ("Guitar", "wedge"),
        ("Keys", "in_ear_pair"),
    ]
    assert sends["Bass DI"] == sends["Kick"] + 10
    assert "Click" not in sends


def test_the_readme_says_the_same_figure() -> None:
    (total,) = re.findall(r"\*\*all\*\* \| \| \*\*(\d+)\*\*", TABLE.read_text(encoding="utf-8"))

    readme = (ROOT / "README.md").read_text(encoding="utf-8")

    assert f"[{total} clicks, keys and pastes](docs/five-minutes.md)" in " ".join(readme.split())
