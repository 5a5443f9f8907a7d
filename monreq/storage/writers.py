"""Who runs the jobs that write: a thread of their own, or the caller."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Final, Generic, Protocol, TypeVar

from gevent.threadpool import ThreadPool

from monreq.config import AsyncMode

Result = TypeVar("Result")


class ClosableWriter(Protocol):
    """A `Writer` that can be ended."""

    def run(self, job: Callable[[], Result]) -> Result:
        """Run a job and return what it returns, or raise what it raises."""

    def close(self) -> None:
        """End it; what runs is waited for."""


class ThreadWriter:
    """One thread, which all jobs run on."""

    def __init__(self) -> None:
        self._thread: Final = ThreadPoolExecutor(1, "writer")

    def run(self, job: Callable[[], Result]) -> Result:
        """Run a job while the caller waits."""
        return self._thread.submit(job).result()

    def close(self) -> None:
        """End the thread."""
        self._thread.shutdown()


class GeventWriter:
    """One native thread: the caller's greenlet waits for it, and the others go on."""

    def __init__(self) -> None:
        self._thread: Final = ThreadPool(1)

    def run(self, job: Callable[[], Result]) -> Result:
        """Run a job while the caller waits."""
        outcome: _Outcome[Result] = self._thread.apply(_Outcome, (job,))
        return outcome.get()

    def close(self) -> None:
        """End the thread."""
        self._thread.join()
        self._thread.kill()


class DirectWriter:
    """The caller itself: for a database whose driver lets others go on while it waits."""

    def run(self, job: Callable[[], Result]) -> Result:
        """Run a job."""
        return job()

    def close(self) -> None:
        """End nothing."""


class _Outcome(Generic[Result]):
    """What a job came to. gevent would print an error that leaves its thread, though the caller hears of it."""

    def __init__(self, job: Callable[[], Result]) -> None:
        self._error: BaseException | None = None
        try:
            self._result = job()
        except BaseException as error:  # noqa: BLE001 - raised where it is waited for
            self._error = error

    def get(self) -> Result:
        if self._error is not None:
            raise self._error
        return self._result


def thread_writer(mode: AsyncMode) -> ClosableWriter:
    """Return a writer with a thread of its own, which SQLite needs: its driver lets nobody go on while it waits."""
    return GeventWriter() if mode == "gevent" else ThreadWriter()
