"""Turns: jobs that arrive at once are worked off in batches, by one of those who brought them."""

import threading
from collections.abc import Callable, Sequence
from typing import Generic, TypeVar

from monreq.services.ports import StorageFailed

Answer = TypeVar("Answer")


class Job(Generic[Answer]):
    """Something brought in, and what became of it."""

    def __init__(self) -> None:
        self._turn = threading.Event()
        self._is_finished = False
        self._answer: Answer | None = None
        self._error: BaseException | None = None

    def finish(self, answer: Answer) -> None:
        """Say what came of it."""
        self._answer, self._is_finished = answer, True

    def fail(self, error: BaseException) -> None:
        """Say why nothing came of it."""
        self._error, self._is_finished = error, True

    @property
    def is_finished(self) -> bool:
        """Whether it was finished or failed."""
        return self._is_finished

    def wait(self) -> None:
        """Wait until it is finished, or its bringer is next to work."""
        self._turn.wait()

    @property
    def is_woken(self) -> bool:
        """Whether whoever brought it need not wait any more."""
        return self._turn.is_set()

    def wake(self) -> None:
        """Let whoever brought it go on."""
        self._turn.set()

    def result(self) -> Answer:
        """Return what came of it.

        Raises:
            BaseException: What it failed with.
        """
        if self._error is not None:
            raise self._error
        return self._answer  # type: ignore[return-value]  # finished without an error means there is one


AnyJob = TypeVar("AnyJob", bound=Job)  # type: ignore[type-arg]  # whatever it answers


class Turns(Generic[AnyJob]):
    """One queue of jobs. While one batch is worked, the next gathers.

    Whoever finds nobody at work works; when done, the first who waits takes over. So no thread has to be kept, and
    nobody works for longer than one batch.
    """

    def __init__(self, work: Callable[[Sequence[AnyJob]], None]) -> None:
        self._work = work
        self._lock = threading.Lock()
        self._waiting: list[AnyJob] = []
        self._is_busy = False

    def take(self, job: AnyJob) -> None:
        """Return once a job is finished."""
        if not self._joins_at_once(job):
            self._wait(job)
        if not job.is_finished:
            self._work_off()

    def _joins_at_once(self, job: AnyJob) -> bool:
        with self._lock:
            self._waiting.append(job)
            is_first, self._is_busy = not self._is_busy, True
        return is_first

    def _wait(self, job: AnyJob) -> None:
        try:
            job.wait()
        except BaseException:  # whoever is ended while waiting must not leave the others waiting for ever
            self._leave(job)
            raise

    def _leave(self, job: AnyJob) -> None:
        with self._lock:
            if job in self._waiting:
                self._waiting.remove(job)
                if job.is_woken:
                    self._pass_on()

    def _work_off(self) -> None:
        with self._lock:
            batch, self._waiting = self._waiting, []
        try:
            self._work(batch)
        finally:
            self._hand_over(batch)

    def _hand_over(self, batch: Sequence[AnyJob]) -> None:
        for job in batch:
            if not job.is_finished:
                job.fail(StorageFailed())
            job.wake()
        with self._lock:
            self._pass_on()

    def _pass_on(self) -> None:
        if self._waiting:
            self._waiting[0].wake()
        else:
            self._is_busy = False
