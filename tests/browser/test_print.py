"""The sheets as a browser prints them: black on white, each from a new page on, nothing cut at an edge."""

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from monreq.domain.commands import OpenShow
from tests.browser.conftest import DESK
from tests.support import evening as evenings
from tests.support.chromium import Watch
from tests.support.codes import page_pictures, page_texts, texts_off_the_page
from tests.support.crowded import ARABIC, JAPANESE, LONG, MARKUP, NAME, PLAYERS, SOURCES, crowded_commands
from tests.support.monreq_process import serving


@pytest.fixture(scope="module")
def crowded_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("crowded") / "data"
    monreq = evenings.start(folder)
    monreq.shows.open("full", OpenShow(NAME))
    for command in crowded_commands():
        monreq.shows.submit("full", command)
    monreq.close()
    return folder


@pytest.fixture(scope="module")
def sheets(browser: Browser, crowded_folder: Path) -> Iterator[Page]:
    with serving("serve", crowded_folder, len(PLAYERS)) as served:
        watch = Watch([served.url.removeprefix("http://")])
        context = browser.new_context(viewport=DESK, color_scheme="dark")
        watch.follow(context)
        page = context.new_page()
        page.goto(served.desk)
        page.get_by_role("button", name="open the desk").click()
        page.goto(f"{served.url}/desk/sheets")
        yield page
        context.close()
        assert watch.complaints() == []


@pytest.fixture(scope="module")
def pdf(sheets: Page) -> bytes:
    return sheets.pdf(format="A4")


def letters(text: str) -> str:
    """Leave out the spaces: a PDF has none, and where its reader puts some depends on the fonts of this machine."""
    return "".join(text.split())


def test_each_sheet_begins_a_page_with_its_title(pdf: bytes) -> None:
    first_words = [letters(page)[:200] for page in page_texts(pdf)]

    for title in ("Input list", "Stage plan", "Mixes", "Олег", "Zoë", "Ada", "Ben", LONG, MARKUP):
        assert any(words.startswith(letters(title)) for words in first_words), title
    assert Counter(words.startswith("Stageplan") for words in first_words)[True] == 1


def test_every_source_of_every_mix_is_on_paper_once(pdf: bytes) -> None:
    # Behind the number stands a word, a minus, or what begins a line.
    found = Counter(re.findall(r"Source(\d+)", letters(" ".join(page_texts(pdf)))))

    # In the input list, in two tables of mixes abreast, and in the sheet of each mix.
    assert {found[f"{number}"] for number in range(9, SOURCES + 1)} == {1 + 2 + len(PLAYERS)}


def test_a_table_that_goes_on_repeats_its_head(pdf: bytes) -> None:
    pages = [letters(page) for page in page_texts(pdf)]

    with_inputs = [page for page in pages if "openmic" in page]
    assert len(with_inputs) > 1
    assert all(page.count("numbersource") == 1 for page in with_inputs)


def test_nothing_is_cut_at_an_edge(pdf: bytes) -> None:
    text = letters(" ".join(page_texts(pdf)))

    assert texts_off_the_page(pdf) == []
    for name in (LONG, JAPANESE.split()[1], MARKUP):
        assert letters(name) in text, name
    assert ARABIC.split()[0] in text or ARABIC.split()[0][::-1] in text
    margins = [
        picture.crop((picture.width - 20, 0, picture.width, picture.height))
        for picture in page_pictures(pdf, 2.0)
    ]
    assert {margin.getextrema() for margin in margins} == {(255, 255)}


def test_paper_stays_white_though_the_screen_is_dark(pdf: bytes) -> None:
    pictures = page_pictures(pdf, 2.0)

    most = [Counter(picture.tobytes()).most_common(1)[0][0] for picture in pictures]
    darkest = [min(picture.tobytes()) for picture in pictures]
    assert most == [255] * len(pictures)
    assert max(darkest) < 60


def test_what_only_a_screen_needs_is_not_printed(pdf: bytes) -> None:
    text = letters(" ".join(page_texts(pdf)))

    for words in ("sheets.pdf", "Afterwards", "Queue", "Sheets to print"):
        assert letters(words) not in text, words
