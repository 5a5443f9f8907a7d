"""Notes when the storage fails, and when it is well again, so that the desk is told without asking."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TypeVar

from monreq.services.health import Health, Trouble
from monreq.services.ports import StorageFailed, Writer

Result = TypeVar("Result")


class WatchedWriter:
    """A `Writer` that is another one, and notes why a job of it failed."""

    def __init__(self, writer: Writer, health: Health) -> None:
        self._writer, self._health = writer, health

    def run(self, job: Callable[[], Result]) -> Result:
        """Run a job and return what it returns, or raise what it raises."""
        with _noted(self._health):
            return self._writer.run(job)


class StorageWatch:
    """Looks after the storage between requests.

    Args:
        look: Reads a little; raises StorageFailed.
        write: Writes a little; raises StorageFailed.
    """

    def __init__(self, health: Health, look: Callable[[], None], write: Callable[[], None]) -> None:
        self._health, self._look, self._write = health, look, write

    def __call__(self) -> None:
        """Look once; only while something is wrong is anything written."""
        try:
            with _noted(self._health):
                self._look()
                if self._health.has(Trouble.STORAGE):
                    self._write()
                    self._health.clear(Trouble.STORAGE)
        except StorageFailed:
            pass  # noted, and tried again at the next look


@contextmanager
def _noted(health: Health) -> Iterator[None]:
    try:
        yield
    except StorageFailed as failed:
        health.put(Trouble.STORAGE, str(failed))
        raise
