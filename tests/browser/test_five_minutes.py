"""From an empty data folder to printed cards: as few actions as the page says, and a show that is ready."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import DESK, PATIENCE_MS
from tests.support.chromium import Watch
from tests.support.codes import codes_in, page_pictures, page_texts
from tests.support.five_minutes import AIM, TABLE, Preparing, Step, actions, page_of
from tests.support.monreq_process import Served, serving
from tests.support.serving import ROOT


@dataclass(frozen=True)
class Prepared:
    """A band of five, prepared from nothing by the hands of a desk, and its printed cards."""

    served: Served
    steps: list[Step]
    cards: bytes


@pytest.fixture(scope="module")
def prepared(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Prepared]:
    with serving("serve", tmp_path_factory.mktemp("nothing-yet") / "data", 0) as served:
        yield prepare(browser, served)


def prepare(browser: Browser, nothing_yet: Served) -> Prepared:
    watch = Watch([nothing_yet.url.removeprefix("http://")])
    context = browser.new_context(viewport=DESK)
    context.set_default_timeout(PATIENCE_MS)
    watch.follow(context)
    hands = Preparing(context.new_page())
    cards = hands.prepare(nothing_yet)
    context.close()
    assert watch.complaints() == []
    return Prepared(nothing_yet, hands.steps, cards)


def test_a_band_of_five_is_prepared_with_what_the_page_says(prepared: Prepared) -> None:
    assert actions(prepared.steps) < AIM
    assert page_of(prepared.steps) == TABLE.read_text(encoding="utf-8")
    pictures = page_pictures(prepared.cards, 6.0)
    links = {code for picture in pictures for code in codes_in(picture) if "/j/" in code}
    assert len(links) == 5
    text = "".join(page_texts(prepared.cards))
    assert all(name in text for name in ("Ada", "Bo", "Cy", "Dee", "Eva", "Harbour stage"))


def test_what_was_prepared_is_ready_for_the_soundcheck(prepared: Prepared) -> None:
    mixes = {one["mix_name"]: one for one in prepared.served.read("/mixes")["mixes"]}
    sends = {
        one["source_name"]: one["level_db"]
        for one in prepared.served.read(f"/mixes/{mixes['Bass']['mix']}")["sends"]
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
