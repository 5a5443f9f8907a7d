"""A shelf of bands in memory."""

from collections.abc import Iterator
from contextlib import contextmanager

from monreq.domain.band import Band
from monreq.services.band_ports import BandEntry, Claimed, HeldShelf
from monreq.services.ports import Submission


class MemoryShelf:
    """A `BandShelf` that keeps nothing after the process; whatever is raised while it is held undoes all."""

    def __init__(self) -> None:
        self._bands: dict[str, tuple[Band, int]] = {}
        self._claims: dict[tuple[str, str], Claimed] = {}

    def entries(self) -> list[BandEntry]:
        written = sorted(self._bands.values(), key=lambda one: (one[1], one[0].id))
        return [
            BandEntry(band.id, band.name, band.revision, at_ms, len(band.kept)) for band, at_ms in written
        ]

    def read(self, band: str) -> Band | None:
        return self._bands[band][0] if band in self._bands else None

    @contextmanager
    def hold(self) -> Iterator[HeldShelf]:
        before = dict(self._bands), dict(self._claims)
        try:
            yield self
        except BaseException:
            self._bands, self._claims = before
            raise

    def put(self, band: Band, at_ms: int) -> None:
        self._bands[band.id] = band, at_ms

    def remove(self, band: str) -> None:
        del self._bands[band]

    def find(self, submission: Submission) -> Claimed | None:
        return self._claims.get((submission.scope, submission.client_id))

    def claim(self, submission: Submission, band: str) -> None:
        self._claims[submission.scope, submission.client_id] = Claimed(submission, band)
