"""What the use cases of bands need from outside: a shelf that keeps them."""

from contextlib import AbstractContextManager
from dataclasses import dataclass
from typing import Protocol

from monreq.domain.band import Band
from monreq.services.ports import Submission


@dataclass(frozen=True, slots=True)
class BandEntry:
    """A band as the list of bands has it.

    Attributes:
        changed_at_ms: When it was last written. [ms since 1970, UTC]
        kept: How many mixes are kept of it.
    """

    id: str
    name: str
    revision: int
    changed_at_ms: int
    kept: int


@dataclass(frozen=True, slots=True)
class Claimed:
    """A submission that was taken, and the band it was about."""

    submission: Submission
    band: str


class HeldShelf(Protocol):
    """All bands within one transaction that nobody else can write into."""

    def entries(self) -> list[BandEntry]:
        """Return all bands, the last written last."""

    def read(self, band: str) -> Band | None:
        """Return a band; None if there is none of this id."""

    def put(self, band: Band, at_ms: int) -> None:
        """Add a band, or replace it as a whole."""

    def remove(self, band: str) -> None:
        """Take a band and its kept mixes out for good."""

    def find(self, submission: Submission) -> Claimed | None:
        """Return what was taken under a submission's id."""

    def claim(self, submission: Submission, band: str) -> None:
        """Keep that a submission was taken."""


class BandShelf(Protocol):
    """All bands of this installation."""

    def entries(self) -> list[BandEntry]:
        """Return all bands, the last written last."""

    def read(self, band: str) -> Band | None:
        """Return a band; None if there is none of this id."""

    def hold(self) -> AbstractContextManager[HeldShelf]:
        """Hold the shelf for writing; leaving commits, an exception rolls back; runs on the writer.

        Raises:
            StorageFailed: Nothing was stored.
        """
