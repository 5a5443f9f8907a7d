"""`monreq book`: bands leave beside a running server, and come in where nobody serves."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from monreq.app import Monreq
from monreq.books.write import write_book
from monreq.domain.band import Band
from monreq.domain.setup import Setting
from monreq.storage.folder import DataFolder
from tests.support import evening as evenings
from tests.support.bands import BAND, FRONT
from tests.support.started_commands import Command

OTHER = replace(BAND, id="band2", name="Other Band", kept=())
LOUDER = replace(BAND, kept=(replace(FRONT, output=Setting(0)),))


def bands_in(folder: Path, *bands: Band) -> Path:
    monreq = evenings.start(folder)
    for band in bands:
        monreq.bands.add(band)
    monreq.close()
    return folder


def band_in(folder: Path, band: str = BAND.id) -> Band:
    monreq: Monreq = evenings.start(folder)
    found = monreq.bands.get(band)
    monreq.close()
    return replace(found, revision=0)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "band.json"
    path.write_bytes(write_book(BAND, 1_800_000_000_000))
    return path


def test_export_and_import_bring_the_same_band_into_another_folder(here: Command, tmp_path: Path) -> None:
    bands_in(tmp_path / "one", BAND)

    out = here("book", "export", tmp_path / "band.json", "--data", tmp_path / "one")
    back = here("book", "import", tmp_path / "band.json", "--data", tmp_path / "two")

    assert (out.code, out.errors, back.code, back.errors) == (0, "", 0, "")
    assert out.output == f"The Test Matches with 2 kept mixes: {tmp_path}/band.json\n"
    assert back.output == "The Test Matches with 2 kept mixes: taken in.\n"
    assert band_in(tmp_path / "two") == BAND


def test_two_exports_differ_in_when_they_were_made_alone(here: Command, tmp_path: Path) -> None:
    bands_in(tmp_path / "one", BAND)
    books = []
    for name in ("a.json", "b.json"):
        here("book", "export", tmp_path / name, "--data", tmp_path / "one")
        books.append(json.loads((tmp_path / name).read_text(encoding="utf-8")))

    assert books[0].pop("exported_at") <= books[1].pop("exported_at")
    assert books[0] == books[1]


def test_export_works_while_the_folder_is_held(here: Command, tmp_path: Path) -> None:
    folder = bands_in(tmp_path / "one", BAND)
    monreq = evenings.start(folder)

    ended = here("book", "export", tmp_path / "band.json", "--data", folder)

    monreq.close()
    assert ended.code == 0


def test_import_makes_the_folder(here: Command, book: Path, tmp_path: Path) -> None:
    ended = here("book", "import", book, "--data", tmp_path / "new" / "folder")

    assert ended.code == 0
    assert band_in(tmp_path / "new" / "folder") == BAND


@pytest.mark.parametrize(("named", "name"), [("other band", "Other Band"), ("band2", "Other Band")])
def test_band_is_named_by_name_or_id(here: Command, tmp_path: Path, named: str, name: str) -> None:
    bands_in(tmp_path / "one", BAND, OTHER)

    here("book", "export", tmp_path / "band.json", "--band", named, "--data", tmp_path / "one")

    assert json.loads((tmp_path / "band.json").read_text(encoding="utf-8"))["band"]["name"] == name


@pytest.mark.parametrize(
    ("words", "wrong"),
    [((), "more than one band here"), (("--band", "nosuch"), "no band 'nosuch' here")],
)
def test_export_lists_the_bands_where_it_is_not_clear_which(
    here: Command, tmp_path: Path, words: tuple[str, ...], wrong: str
) -> None:
    bands_in(tmp_path / "one", BAND, OTHER)

    ended = here("book", "export", tmp_path / "band.json", *words, "--data", tmp_path / "one")

    assert ended.code == 1
    assert wrong in ended.errors
    assert "The Test Matches (band1), Other Band (band2)" in ended.errors
    assert ended.errors.count("\n") == 1
    assert not (tmp_path / "band.json").exists()


def test_export_where_there_is_no_band_says_so(here: Command, tmp_path: Path) -> None:
    bands_in(tmp_path / "one")

    ended = here("book", "export", tmp_path / "band.json", "--data", tmp_path / "one")

    assert (ended.code, ended.errors) == (1, "monreq: There is no band here. Bands: none.\n")


def test_same_book_again_changes_nothing(here: Command, book: Path, tmp_path: Path) -> None:
    here("book", "import", book, "--data", tmp_path / "one")

    ended = here("book", "import", book, "--data", tmp_path / "one")

    assert (ended.code, ended.output) == (
        0,
        "The Test Matches with 2 kept mixes: is here already, just like this.\n",
    )


def test_another_evening_of_a_band_is_refused_until_told(here: Command, book: Path, tmp_path: Path) -> None:
    folder = bands_in(tmp_path / "one", LOUDER)

    refused = here("book", "import", book, "--data", folder)
    assert (refused.code, refused.output, band_in(folder)) == (1, "", LOUDER)
    assert "Another evening of The Test Matches is here (The Test Matches with 1 kept mix)" in refused.errors

    told = here("book", "import", book, "--replace", "--data", folder)
    assert (told.code, band_in(folder)) == (0, BAND)


def test_import_while_the_folder_is_held_is_refused(here: Command, book: Path, tmp_path: Path) -> None:
    folder = bands_in(tmp_path / "one", OTHER)

    with DataFolder(folder).hold():
        ended = here("book", "import", book, "--data", folder)

    assert (ended.code, ended.errors) == (1, f"monreq: Another monreq is using this folder: {folder}.\n")


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"the set list", "This file is no band book of monreq."),
        (b'{"format": "monreq-band-book", "version": 9}', "written by a newer monreq"),
        (b'{"format": "monreq-band-book",\n "version"', "line 2, column 11"),
    ],
)
def test_what_is_no_book_is_refused_and_makes_no_folder(
    here: Command, tmp_path: Path, content: bytes, sentence: str
) -> None:
    (tmp_path / "x.json").write_bytes(content)

    ended = here("book", "import", tmp_path / "x.json", "--data", tmp_path / "new")

    assert (ended.code, ended.output) == (1, "")
    assert sentence in ended.errors
    assert ended.errors.count("\n") == 1
    assert not (tmp_path / "new").exists()


def test_export_that_cannot_be_written_leaves_the_old_book(here: Command, tmp_path: Path) -> None:
    folder = bands_in(tmp_path / "one", BAND)

    ended = here("book", "export", tmp_path / "nosuch" / "band.json", "--data", folder)

    assert (ended.code, ended.errors.count("\n")) == (1, 1)
    assert "cannot be written" in ended.errors


@pytest.mark.parametrize("command", [(), ("export",), ("import",)])
def test_help_shows_an_example(here: Command, command: tuple[str, ...]) -> None:
    ended = here("book", *command, "--help")

    assert ended.code == 0
    assert "Example: " in ended.output or not command
