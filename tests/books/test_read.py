"""Reading books: old samples open for ever; others' files, newer, damaged, cut-off and huge ones are refused."""

import io
import json
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.books.read import LARGEST_BYTES, read_book, upgraded
from monreq.books.refusals import BookDamaged, BookFromTheFuture, BookTooLarge, NotABook
from monreq.books.write import write_book
from monreq.domain.band import Band, KeptMix
from monreq.domain.groups import Group
from monreq.domain.refusals import Refusal
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind
from monreq.domain.songs import Song
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from tests.support.bands import BAND

SAMPLES = Path(__file__).with_name("samples")
WRITTEN = write_book(BAND, 1_800_000_000_000)

# What each sample says. A sample is never rewritten: it must open for ever.
SAMPLED = {
    "v1_minimal": Band("b1", "Quartet"),
    "v1_sparse": Band(
        "b1",
        "Quartet",
        sources=(Source("vox", "Lead voice", SourceKind.OPEN_MIC),),
        groups=(Group("voices", "Voices", ("vox",)),),
        musicians=(Musician("singer", "Ada"),),
        mixes=(Mix("front", "Front", Output.WEDGE, ()),),
        songs=(Song("s1", "Opener"),),
        standings={"singer": Standing(Spot(0, 100))},
        source_places={"vox": SourcePlace()},
        kept=(KeptMix("k1", "front", "First night", Setting(-60), {"vox": Setting(-45)}, 1_767_643_800_000),),
    ),
    "v1_full": Band(
        BAND.id,
        "Die Prüfstände",
        sources=BAND.sources,
        groups=(Group("drums", "Drums", ("kick", "hall"), "kick"),),
        musicians=BAND.musicians,
        mixes=BAND.mixes,
        songs=(Song("s1", "Öffner"), Song("s2", "开场")),
        standings=BAND.standings,
        source_places=BAND.source_places,
        kept=BAND.kept,
    ),
}


def opened(content: bytes) -> Band:
    return read_book(io.BytesIO(content))


def changed(change: Callable[[dict[str, Any]], object]) -> bytes:
    document = json.loads(WRITTEN)
    change(document)
    return json.dumps(document).encode()


def test_every_sample_is_told_here() -> None:
    assert {path.stem for path in SAMPLES.glob("*.json")} == set(SAMPLED)


@pytest.mark.parametrize("name", SAMPLED)
def test_sample_opens(name: str) -> None:
    assert opened((SAMPLES / f"{name}.json").read_bytes()) == SAMPLED[name]


def test_a_source_of_a_book_without_the_field_is_no_acoustic_pickup() -> None:
    def without(book: dict[str, Any]) -> None:
        del book["band"]["sources"][1]["is_acoustic"]

    assert not opened(changed(without)).sources[1].is_acoustic


def test_older_versions_go_up_one_step_after_another() -> None:
    steps = {1: lambda book: {**book, "one": True}, 2: lambda book: {**book, "two": book["one"]}}

    assert upgraded({"version": 1}, 3, steps) == {"version": 3, "one": True, "two": True}
    assert upgraded({"version": 3}, 3, steps) == {"version": 3}


@pytest.mark.parametrize("version", [2, 99])
def test_newer_version_is_refused(version: int) -> None:
    with pytest.raises(BookFromTheFuture, match="newer monreq"):
        opened(changed(lambda book: book.update(version=version)))


@pytest.mark.parametrize("version", [None, 0, -1, "1", True, 1.0])
def test_book_without_a_version_is_damaged(version: object) -> None:
    with pytest.raises(BookDamaged, match="which version"):
        opened(changed(lambda book: book.update(version=version)))


@pytest.mark.parametrize(
    "content",
    [b"", b"hello", b"%PDF-1.7", b"[]", b"null", b"{}", b'{"format": "other"}', b"\xff\xfe", b"[" * 100_000],
)
def test_something_else_is_no_book(content: bytes) -> None:
    with pytest.raises(NotABook):
        opened(content)


@given(st.integers(1, len(WRITTEN) - 3))
def test_book_that_is_cut_off_says_where(length: int) -> None:
    with pytest.raises(BookDamaged, match=r"line \d+"):
        opened(WRITTEN[:length])


def test_book_that_is_cut_off_names_the_line_and_column() -> None:
    with pytest.raises(BookDamaged, match="damaged or cut off: line 3, column 14"):
        opened(b'{\n  "format": "monreq-band-book",\n  "version": ')


@pytest.mark.parametrize(
    ("change", "where"),
    [
        (lambda book: book["band"]["sources"][1].update(kind="spoon"), r"band\.sources\[1\]\.kind"),
        (lambda book: book["band"]["sources"][2].pop("name"), r"band\.sources\[2\]\.name"),
        (lambda book: book["band"]["sources"][0].update(name="\x00\u202e "), r"band\.sources\[0\]\.name"),
        (lambda book: book["band"]["musicians"][0].update(name="x" * 61), r"band\.musicians\[0\]\.name"),
        (lambda book: book["band"]["mixes"][0].update(id="../x"), r"band\.mixes\[0\]\.id"),
        (lambda book: book["band"]["kept_mixes"][1]["sends"][0].update(level_db=-9.05), r"sends\[0\]\.level_db: .*tenths"),
        (lambda book: book["band"]["kept_mixes"][1]["sends"][0].update(level_db="-9"), r"sends\[0\]\.level_db"),
        (lambda book: book["band"]["kept_mixes"][0].update(kept_at="2026-02-31T10:00:00Z"), r"kept_mixes\[0\]\.kept_at"),
        (lambda book: book["band"]["stage"]["musicians"][0].update(facing_deg=400), r"facing_deg"),
        (lambda book: book["band"]["stage"]["musicians"][0].update(x_m=2000), r"stage\.musicians\[0\]\.x_m"),
        (lambda book: book.update(band=[]), r"damaged at band"),
        (lambda book: book.update(colour="amber"), r"damaged at colour"),
        (lambda book: book["band"]["sources"].append(book["band"]["sources"][0]), "'kick' stands twice"),
        (lambda book: book["band"]["kept_mixes"][0]["sends"].append({"source": "bass", "level_db": 0}), "source stands twice"),
    ],
)  # fmt: skip
def test_damaged_book_says_where(change: Callable[[dict[str, Any]], object], where: str) -> None:
    with pytest.raises(BookDamaged, match=where):
        opened(changed(change))


@pytest.mark.parametrize("figure", ["NaN", "Infinity", "1e999", "9" * 5000])
def test_figure_that_is_none_is_damage(figure: str) -> None:
    with pytest.raises(BookDamaged):
        opened(WRITTEN.replace(b'"level_db": -9.0', f'"level_db": {figure}'.encode()))


def test_field_that_stands_twice_is_damage() -> None:
    with pytest.raises(BookDamaged, match="'version' stands twice"):
        opened(WRITTEN.replace(b'"version": 1', b'"version": 1, "version": 1'))


def test_text_that_is_none_names_its_line() -> None:
    with pytest.raises(BookDamaged, match="line 7 is not text"):
        opened(WRITTEN.replace(b"The Test", b"The \xff"))


def test_control_and_turning_characters_are_taken_out_of_names() -> None:
    band = opened(changed(lambda book: book["band"].update(name="  The\x07\u202eTest\nMatches ")))

    assert band.name == "TheTest Matches"


def test_markup_in_a_name_is_text() -> None:
    band = opened(changed(lambda book: book["band"].update(name="<script>alert(1)</script>")))

    assert band.name == "<script>alert(1)</script>"


def test_byte_order_mark_is_no_damage() -> None:
    assert opened(b"\xef\xbb\xbf" + WRITTEN) == BAND


class Endless(io.RawIOBase):
    """A file without an end, which counts what was read of it."""

    count = 0

    def readable(self) -> bool:
        return True

    def read(self, size: int | None = -1, /) -> bytes:
        if size is None or size < 0:
            raise AssertionError("all of it was asked for")
        self.count += size
        return b" " * size


def test_huge_file_is_refused_before_all_of_it_is_read() -> None:
    huge = Endless()

    with pytest.raises(BookTooLarge, match="20 MB"):
        read_book(huge)  # type: ignore[arg-type]

    assert huge.count <= LARGEST_BYTES + 1


@given(
    st.binary(max_size=300) | st.binary(max_size=60).map(lambda noise: WRITTEN[:200] + noise + WRITTEN[230:])
)
def test_any_bytes_are_a_band_or_a_refusal(content: bytes) -> None:
    with suppress(Refusal):
        assert isinstance(opened(content), Band)
