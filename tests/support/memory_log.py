"""A log of shows in memory, which fails or waits at a commit when a test wants it to."""

import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import TypeVar

from monreq.domain.events import Recorded
from monreq.domain.refusals import UnknownShow
from monreq.domain.show import Show
from monreq.domain.subjects import subjects as subjects_of
from monreq.services.ports import HeldShow, Kept, ShowEntry

Result = TypeVar("Result")


class InlineWriter:
    """Runs each job in the caller."""

    def run(self, job: Callable[[], Result]) -> Result:
        return job()


class MemoryLog:
    """A `ShowLog` that keeps nothing after the process.

    Attributes:
        at_commit: Called before a batch is taken over; what it raises undoes the batch.
        after_read: Called once, between the next reading from outside and its answer.
    """

    def __init__(self) -> None:
        self.at_commit: Callable[[], None] = lambda: None
        self.after_read: Callable[[], None] = lambda: None
        self._opened_at: dict[str, int] = {}
        self._logs: dict[str, list[Recorded]] = {}
        self._kept: dict[tuple[str, str, str], Kept] = {}
        self._states: dict[str, Show] = {}
        self._lock = threading.Lock()

    def create(self, show_id: str, at_ms: int) -> None:
        self._opened_at.setdefault(show_id, at_ms)
        self._logs.setdefault(show_id, [])

    @contextmanager
    def hold(self, show_id: str) -> Iterator[HeldShow]:
        if show_id not in self._logs:
            raise UnknownShow
        with self._lock:
            held = _Held(self, show_id)
            yield held
            self.at_commit()
            self._take_over(show_id, held)

    def read_after(self, show_id: str, revision: int, up_to: int | None = None) -> list[Recorded]:
        tail = self.stretch(show_id, revision, up_to)
        call, self.after_read = self.after_read, lambda: None
        call()
        return tail

    def stretch(self, show_id: str, revision: int, up_to: int | None = None) -> list[Recorded]:
        return self._logs.get(show_id, [])[revision:up_to]

    def about(self, show_id: str, subjects: Iterable[str], after: int = 0) -> list[Recorded]:
        wanted = set(subjects)
        tail = self.read_after(show_id, after)
        return [one for one in tail if wanted.intersection(subjects_of(one.event))]

    def shows(self) -> list[ShowEntry]:
        entries = [
            ShowEntry(show.id, show.name, show.is_open, show.is_demo, self._opened_at[show.id])
            for show in self._states.values()
        ]
        return sorted(entries, key=lambda entry: entry.opened_at_ms)

    def find(self, show_id: str, scope: str, client_id: str) -> Kept | None:
        return self._kept.get((show_id, scope, client_id))

    def _take_over(self, show_id: str, held: "_Held") -> None:
        self._logs[show_id] = [*self._logs[show_id], *held.recorded]
        for kept in held.kept:
            self._kept[show_id, kept.submission.scope, kept.submission.client_id] = kept
        if held.state is not None:
            self._states[show_id] = held.state


class _Held:
    def __init__(self, log: MemoryLog, show_id: str) -> None:
        self._log = log
        self._show_id = show_id
        self.recorded: Sequence[Recorded] = ()
        self.kept: Sequence[Kept] = ()
        self.state: Show | None = None

    def read_after(self, revision: int) -> list[Recorded]:
        return self._log.stretch(self._show_id, revision)

    def read(self, first_revision: int, last_revision: int) -> list[Recorded]:
        return self._log.stretch(self._show_id, first_revision - 1, last_revision)

    def find(self, scope: str, client_id: str) -> Kept | None:
        return self._log.find(self._show_id, scope, client_id)

    def append(self, recorded: Sequence[Recorded], kept: Sequence[Kept], state: Show) -> None:
        self.recorded, self.kept, self.state = recorded, kept, state
