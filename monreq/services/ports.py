"""What the use cases need from outside: a log that keeps, a writer that runs, somebody to tell."""

from collections.abc import Callable, Iterable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from typing import Protocol, TypeVar

from monreq.domain.events import Recorded
from monreq.domain.show import Show

Result = TypeVar("Result")

Clock = Callable[[], int]
"""Returns the time. [ms since 1970, UTC]"""


@dataclass(frozen=True, slots=True)
class Submission:
    """What a client sent once, and may send again.

    Attributes:
        scope: Where its id is unique: a mix's id, or the desk.
        fingerprint: Of all that it said; another fingerprint under one id is another submission.
    """

    scope: str
    client_id: str
    fingerprint: str


@dataclass(frozen=True, slots=True)
class Kept:
    """A submission that was taken, with the events that it came to (none if last < first)."""

    submission: Submission
    first_revision: int
    last_revision: int


@dataclass(frozen=True, slots=True)
class ShowEntry:
    """A show as the list of shows has it."""

    id: str
    name: str
    is_open: bool
    is_demo: bool
    opened_at_ms: int


@dataclass(frozen=True, slots=True)
class Change:
    """What a commit changed, for those who are told.

    Attributes:
        before: The state that the first of the events was folded on.
        after: The state after the last of them.
    """

    before: Show
    after: Show
    recorded: tuple[Recorded, ...]


class HeldShow(Protocol):
    """One show within one transaction that nobody else can write into."""

    def read_after(self, revision: int) -> list[Recorded]:
        """Return the log's tail."""

    def read(self, first_revision: int, last_revision: int) -> list[Recorded]:
        """Return a stretch of the log, both ends included."""

    def find(self, scope: str, client_id: str) -> Kept | None:
        """Return what was kept for a submission's id."""

    def append(self, recorded: Sequence[Recorded], kept: Sequence[Kept], state: Show) -> None:
        """Add to the log; `state` is the fold after it, for the list of shows."""


class ShowLog(Protocol):
    """The log of every show."""

    def create(self, show_id: str, at_ms: int) -> None:
        """Make room for a show; one that is there is left as it is; runs on the writer."""

    def hold(self, show_id: str) -> AbstractContextManager[HeldShow]:
        """Hold a show for writing; leaving commits, an exception rolls back; runs on the writer.

        Raises:
            UnknownShow: There is none of this id.
            StorageFailed: Nothing was stored.
        """

    def read_after(self, show_id: str, revision: int, up_to: int | None = None) -> list[Recorded]:
        """Return a show's log from behind a revision, to its head or up to a revision."""

    def about(self, show_id: str, subjects: Iterable[str], after: int = 0) -> list[Recorded]:
        """Return the events that concern any of these subjects, in order."""

    def shows(self) -> list[ShowEntry]:
        """Return all shows that have begun, the newest last."""


class Writer(Protocol):
    """Runs a job where a slow disk stops nobody else. No job may take a lock that others wait for."""

    def run(self, job: Callable[[], Result]) -> Result:
        """Run a job and return what it returns, or raise what it raises."""


class StorageFailed(Exception):  # noqa: N818 - said to a person, like a refusal
    """The disk or the database refused, and nothing was stored.

    Where a connection broke during the commit itself it cannot be told; the same submission, sent again, is
    taken once in either case.
    """
