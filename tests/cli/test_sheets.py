"""`monreq sheets`: the sheets of a show as a file, and what it says where none can be written."""

from pathlib import Path

import pytest

from tests.support.codes import page_texts
from tests.support.monreq_process import Served
from tests.support.started_commands import MIXES, Command, show_on


def test_sheets_beside_a_running_server_have_every_mix(here: Command, demo: Served, tmp_path: Path) -> None:
    out = tmp_path / "sheets.pdf"

    ended = here("sheets", out, "--data", demo.folder)

    titles = [page.split("\r\n")[0] for page in page_texts(out.read_bytes())]
    assert (ended.errors, ended.code) == ("", 0)
    assert ended.output.endswith(f": {out}\n")
    assert titles == ["Input list", "Stage plan", "Mixes", *MIXES]
    assert demo.read("/show")


def test_sheets_of_an_empty_show_are_an_empty_input_list(here: Command, tmp_path: Path) -> None:
    show_on(tmp_path / "data", "Village green")
    out = tmp_path / "sheets.pdf"

    ended = here("sheets", out, "--data", tmp_path / "data")

    (page,) = page_texts(out.read_bytes())
    assert (ended.output, ended.errors, ended.code) == (f"Village green: {out}\n", "", 0)
    assert page.split() == ["Input", "list", "Village", "green", "number", "source", "where", "from", "marks"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("{tmp}/none/sheets.pdf",), "cannot be written: No such file or directory."),
        (("{tmp}/sheets.pdf", "--show", "nothere"), "nothere"),
    ],
)
def test_sheets_that_cannot_be_made_are_told_in_one_line(
    here: Command, demo: Served, tmp_path: Path, words: tuple[str, ...], says: str
) -> None:
    given = [word.format(tmp=tmp_path) for word in words]

    ended = here("sheets", *given, "--data", demo.folder)

    assert (ended.output, ended.code, ended.errors.count("\n")) == ("", 1, 1)
    assert says in ended.errors
    assert list(tmp_path.iterdir()) == []
