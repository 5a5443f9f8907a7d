"""Bands in tables: what is put comes back, what differs is written, and a stored band loads for ever."""

import json
from dataclasses import fields, replace
from pathlib import Path

import pytest

from monreq.domain.band import Band, KeptMix
from monreq.domain.groups import Group
from monreq.domain.setup import Setting
from monreq.domain.songs import Song
from monreq.services.band_ports import BandEntry, Claimed
from monreq.services.ports import StorageFailed, Submission
from monreq.storage.band_codec import UnreadableBand, decode_band, decode_kept, encode_band, encode_kept
from monreq.storage.open import Storage
from tests.support.bands import BAND, EARS, FRONT

SAMPLES = Path(__file__).with_name("band_samples")
FULL = replace(
    BAND,
    name="Łąka 草原",
    revision=1,
    groups=(Group("rhythm", "Rhythm", ("kick", "bass"), sub_mix="keys"),),
    songs=(Song("blue", "Blue moor"),),
    kept=(replace(FRONT, song="blue"), EARS),
)
TAPPED = Submission("show1", "c-1", "f")


def put(storage: Storage, band: Band, at_ms: int = 1000) -> None:
    def write() -> None:
        with storage.bands.hold() as held:
            held.put(band, at_ms)

    storage.writer.run(write)


def kept_numbered(number: int) -> KeptMix:
    return KeptMix(f"k{number}", "front", f"Kept {number}", Setting(-60), {"voice": Setting(-number)}, number)


def test_put_band_comes_back_equal_in_another_process(storage: Storage, other: Storage) -> None:
    put(storage, FULL)

    assert other.bands.read(FULL.id) == FULL


def test_read_of_an_unknown_band_is_none(storage: Storage) -> None:
    assert storage.bands.read("nobody") is None


def test_entries_count_kept_mixes_and_stand_in_order_of_writing(storage: Storage) -> None:
    put(storage, FULL, at_ms=2000)
    put(storage, Band("older", "Older", 3), at_ms=1000)

    assert storage.bands.entries() == [
        BandEntry("older", "Older", 3, 1000, kept=0),
        BandEntry(FULL.id, FULL.name, 1, 2000, kept=2),
    ]


def test_put_again_writes_what_was_added_renamed_reordered_and_removed(storage: Storage) -> None:
    first, second, third = map(kept_numbered, (1, 2, 3))
    put(storage, replace(FULL, kept=(first, second)))
    changed = replace(FULL, revision=2, kept=(third, replace(first, name="Another")))

    put(storage, changed)

    assert storage.bands.read(FULL.id) == changed


def test_thousand_kept_mixes_come_back_in_order(storage: Storage) -> None:
    full = replace(FULL, kept=tuple(map(kept_numbered, range(1000))))

    put(storage, full)

    assert storage.bands.read(FULL.id) == full


def test_remove_takes_out_the_band_and_its_kept_mixes_only(storage: Storage) -> None:
    put(storage, FULL)
    put(storage, replace(FULL, id="other"))

    def remove() -> None:
        with storage.bands.hold() as held:
            held.remove(FULL.id)

    storage.writer.run(remove)

    assert storage.bands.read(FULL.id) is None
    assert [entry.kept for entry in storage.bands.entries()] == [2]


def test_what_is_raised_while_held_undoes_everything(storage: Storage) -> None:
    def fail() -> None:
        with storage.bands.hold() as held:
            held.put(FULL, 1000)
            held.claim(TAPPED, FULL.id)
            raise RuntimeError

    with pytest.raises(RuntimeError):
        storage.writer.run(fail)

    assert storage.bands.entries() == []


def test_claimed_submission_is_found_again_and_no_second_is_taken(storage: Storage) -> None:
    def claim_twice() -> Claimed | None:
        with storage.bands.hold() as held:
            held.claim(TAPPED, FULL.id)
        with storage.bands.hold() as held:
            return held.find(TAPPED)

    def claim_again() -> None:
        with storage.bands.hold() as held:
            held.claim(TAPPED, FULL.id)

    assert storage.writer.run(claim_twice) == Claimed(TAPPED, FULL.id)
    with pytest.raises(StorageFailed):
        storage.writer.run(claim_again)


def test_stored_band_and_kept_mix_of_earlier_days_load() -> None:
    stored = json.loads((SAMPLES / "band.json").read_text("utf-8"))
    stored_kept = json.loads((SAMPLES / "kept_mix.json").read_text("utf-8"))

    kept = decode_kept({**stored_kept, "body": json.dumps(stored_kept["body"])})
    band = decode_band({**stored, "body": json.dumps(stored["body"])}, [kept])

    assert band == replace(FULL, kept=(FULL.kept[0],))


def test_stored_band_without_later_fields_takes_their_defaults() -> None:
    assert decode_band({"id": "b", "name": "B", "revision": 1, "body": "{}"}, []) == Band("b", "B", 1)


def test_every_field_is_written() -> None:
    band, kept = encode_band(FULL), encode_kept(EARS)

    assert (band.keys() | json.loads(band["body"]).keys()) - {"body"} == _fields_of(Band) - {"kept"}
    assert (kept.keys() | json.loads(kept["body"]).keys()) - {"body"} == _fields_of(KeptMix)


@pytest.mark.parametrize("body", ["", "[]", '{"sources":[{}]}', '{"mixes":1}'])
def test_damaged_body_is_told_in_a_sentence(body: str) -> None:
    with pytest.raises(UnreadableBand, match="damaged"):
        decode_band({"id": "b", "name": "B", "revision": 1, "body": body}, [])


def _fields_of(stored: type[Band | KeptMix]) -> set[str]:
    return {field.name for field in fields(stored)}
