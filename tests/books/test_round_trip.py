"""A band goes into a book and comes back the same; two books of one band differ in one line."""

import io
import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.books.read import read_book
from monreq.books.write import write_book
from monreq.domain.band import Band
from monreq.domain.setup import Setting
from tests.support.bands import BAND
from tests.support.strategies import BANDS

NOW_MS = 1_800_000_000_000


def there_and_back(band: Band) -> Band:
    return read_book(io.BytesIO(write_book(band, NOW_MS)))


@given(BANDS)
def test_any_band_comes_back_equal_with_its_ids_and_order(band: Band) -> None:
    back = there_and_back(band)

    assert back == band
    assert [list(one.sends) for one in back.kept] == [
        [send["source"] for send in kept["sends"]]
        for kept in json.loads(write_book(band, NOW_MS))["band"]["kept_mixes"]
    ]


@given(BANDS, st.integers(0, 4_000_000_000_000))
@settings(max_examples=50)
def test_two_exports_differ_in_the_line_that_says_when(band: Band, later_ms: int) -> None:
    one, other = write_book(band, NOW_MS).splitlines(), write_book(band, later_ms).splitlines()

    differing = [line for line, there in zip(one, other, strict=True) if line != there]

    assert all(line.startswith(b'  "exported_at": ') for line in differing)
    assert len(differing) <= 1


@given(BANDS)
@settings(max_examples=50)
def test_a_book_of_a_book_is_the_same_file(band: Band) -> None:
    written = write_book(band, NOW_MS)

    assert write_book(read_book(io.BytesIO(written)), NOW_MS) == written


def test_a_changed_level_is_one_changed_line() -> None:
    first, second = BAND.kept
    louder = replace(first, sends={**first.sends, "voice": Setting(-30)})
    changed = replace(BAND, kept=(louder, second))

    before, after = write_book(BAND, NOW_MS).splitlines(), write_book(changed, NOW_MS).splitlines()

    assert [new for old, new in zip(before, after, strict=True) if old != new] == [
        b'          {"source": "voice", "level_db": -3.0, "pan": 0.0, "is_on": true}'
    ]


@pytest.mark.parametrize("word", [b"token", b"key", b"passphrase", b"code"])
def test_a_book_holds_no_secret_by_any_name(word: bytes) -> None:
    written = json.loads(write_book(BAND, NOW_MS))

    def names(value: object) -> set[bytes]:
        if isinstance(value, dict):
            return {name.encode() for name in value} | {one for held in value.values() for one in names(held)}
        return {one for held in value for one in names(held)} if isinstance(value, list) else set()

    assert word not in names(written)
