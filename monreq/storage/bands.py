"""Bands and the mixes kept of them, in tables: held while they are written to, read at any time."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Final

from sqlalchemy import Connection, Engine, bindparam, delete, func, insert, select, text, update

from monreq.domain.band import Band, KeptMix
from monreq.services.band_ports import BandEntry, Claimed, HeldShelf
from monreq.services.ports import Submission
from monreq.storage.band_codec import decode_band, decode_kept, encode_band, encode_kept
from monreq.storage.failures import reported
from monreq.storage.tables import band_submissions, bands, kept_mixes

_ENTRIES: Final = select(
    bands.c.id,
    bands.c.name,
    bands.c.revision,
    bands.c.changed_at_ms,
    select(func.count())
    .where(kept_mixes.c.band_id == bands.c.id)
    .correlate(bands)
    .scalar_subquery()
    .label("kept"),
).order_by(bands.c.changed_at_ms, bands.c.id)
_BAND: Final = select(bands).where(bands.c.id == bindparam("band"))
_KEPT: Final = (
    select(kept_mixes).where(kept_mixes.c.band_id == bindparam("band")).order_by(kept_mixes.c.place)
)
_FIND: Final = select(band_submissions).where(
    band_submissions.c.scope == bindparam("scope"), band_submissions.c.client_id == bindparam("client_id")
)
_REVISION: Final = select(bands.c.revision).where(bands.c.id == bindparam("band"))
_THIS_KEPT: Final = (kept_mixes.c.band_id == bindparam("of_band"), kept_mixes.c.id == bindparam("of_id"))
# Bands are seldom written, so one writer at a time is enough; SQLite's transaction is that by itself.
_HOLD: Final = text("SELECT pg_advisory_xact_lock(:lock)")
_LOCK: Final = 0x62616E64  # chosen: any number that nothing else here locks by


class SqlBandShelf:
    """A `BandShelf` in a database.

    Args:
        writing: Used on the writer only.
        reading: Used from anywhere; each of its statements is a transaction.
    """

    def __init__(self, writing: Engine, reading: Engine) -> None:
        self._writing = writing
        self._reading = reading

    def entries(self) -> list[BandEntry]:
        """Return all bands, the last written last."""
        with reported(), self._reading.connect() as connection:
            return _entries(connection)

    def read(self, band: str) -> Band | None:
        """Return a band; None if there is none of this id."""
        with reported(), self._reading.connect() as connection:
            while True:
                found = _read(connection, band)
                # Two statements are two transactions: the mixes may be of a newer band than its line-up.
                if found is None or found.revision == connection.scalar(_REVISION, {"band": band}):
                    return found

    @contextmanager
    def hold(self) -> Iterator[HeldShelf]:
        """Hold the shelf for writing; leaving commits, an exception rolls back."""
        with reported(), self._writing.begin() as connection:
            if connection.dialect.name == "postgresql":
                connection.execute(_HOLD, {"lock": _LOCK})
            yield _HeldRows(connection)


class _HeldRows:
    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def entries(self) -> list[BandEntry]:
        return _entries(self._connection)

    def read(self, band: str) -> Band | None:
        return _read(self._connection, band)

    def put(self, band: Band, at_ms: int) -> None:
        row = {**encode_band(band), "changed_at_ms": at_ms}
        if self._connection.scalar(_REVISION, {"band": band.id}) is None:
            self._connection.execute(insert(bands), row)
        else:
            self._connection.execute(update(bands).where(bands.c.id == band.id), row)
        self._put_kept(band)

    def _put_kept(self, band: Band) -> None:
        """Write the kept mixes that differ from what is stored, and no others."""
        wanted = {one.id: _kept_row(band.id, place, one) for place, one in enumerate(band.kept)}
        stored = {
            row["id"]: dict(row) for row in self._connection.execute(_KEPT, {"band": band.id}).mappings()
        }
        gone = [{"of_band": band.id, "of_id": kept} for kept in stored.keys() - wanted.keys()]
        changed = [
            {"of_band": band.id, "of_id": kept, **row}
            for kept, row in wanted.items()
            if kept in stored and stored[kept] != row
        ]
        added = [row for kept, row in wanted.items() if kept not in stored]
        if gone:
            self._connection.execute(delete(kept_mixes).where(*_THIS_KEPT), gone)
        if changed:
            self._connection.execute(update(kept_mixes).where(*_THIS_KEPT), changed)
        if added:
            self._connection.execute(insert(kept_mixes), added)

    def remove(self, band: str) -> None:
        self._connection.execute(delete(kept_mixes).where(kept_mixes.c.band_id == band))
        self._connection.execute(delete(bands).where(bands.c.id == band))

    def find(self, submission: Submission) -> Claimed | None:
        wanted = {"scope": submission.scope, "client_id": submission.client_id}
        row = self._connection.execute(_FIND, wanted).one_or_none()
        if row is None:
            return None
        return Claimed(Submission(row.scope, row.client_id, row.fingerprint), row.band_id)

    def claim(self, submission: Submission, band: str) -> None:
        self._connection.execute(
            insert(band_submissions),
            {
                "scope": submission.scope,
                "client_id": submission.client_id,
                "fingerprint": submission.fingerprint,
                "band_id": band,
            },
        )


def _entries(connection: Connection) -> list[BandEntry]:
    return [BandEntry(**row) for row in connection.execute(_ENTRIES).mappings()]


def _read(connection: Connection, band: str) -> Band | None:
    row = connection.execute(_BAND, {"band": band}).mappings().one_or_none()
    if row is None:
        return None
    kept = connection.execute(_KEPT, {"band": band}).mappings()
    return decode_band(row, [decode_kept(one) for one in kept])


def _kept_row(band: str, place: int, kept: KeptMix) -> dict[str, Any]:
    return {"band_id": band, "place": place, **encode_kept(kept)}
