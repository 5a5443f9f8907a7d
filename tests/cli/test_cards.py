"""`monreq cards`: the codes on the cards, and what it says where none can be made."""

from pathlib import Path
from urllib.parse import urlsplit

import pypdfium2
import pytest

from tests.support.codes import codes_in
from tests.support.monreq_process import Served
from tests.support.started_commands import Command


def test_cards_beside_a_running_server_carry_its_links(here: Command, demo: Served, tmp_path: Path) -> None:
    out = tmp_path / "cards.pdf"

    ended = here("cards", out, "--data", demo.folder)

    assert (ended.errors, ended.code) == ("", 0)
    assert ended.output == f"6 mixes, codes to {demo.url}: {out}\n"
    *phones, tablet = _codes_of(out)
    assert set(phones) == set(demo.phones.values())
    assert len(phones) == 7  # two of the seven musicians share a mix
    assert tablet.startswith(f"{demo.url}/tablet/open/")


def test_cards_carry_another_address_if_told(here: Command, demo: Served, tmp_path: Path) -> None:
    out = tmp_path / "cards.pdf"

    here("cards", out, "--data", demo.folder, "--address", "stage.example:9000")

    assert {urlsplit(link)[:2] for link in _codes_of(out)} == {("http", "stage.example:9000")}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("{tmp}/none/cards.pdf",), "cannot be written: No such file or directory."),
        (("{tmp}/cards.pdf", "--address", "http://"), "is not a host, host:port or http(s) URL."),
    ],
)
def test_cards_that_cannot_be_made_are_told_in_one_line(
    here: Command, demo: Served, tmp_path: Path, words: tuple[str, ...], says: str
) -> None:
    given = [word.format(tmp=tmp_path) for word in words]

    ended = here("cards", *given, "--data", demo.folder)

    assert (ended.output, ended.code, ended.errors.count("\n")) == ("", 1, 1)
    assert ended.errors.rstrip().endswith(says)
    assert list(tmp_path.iterdir()) == []


def _codes_of(pdf: Path) -> list[str]:
    with pypdfium2.PdfDocument(pdf.read_bytes()) as document:
        pictures = [page.render(scale=3).to_pil().convert("L") for page in document]
    return [text for picture in pictures for text in codes_in(picture) if not text.startswith("WIFI:")]
