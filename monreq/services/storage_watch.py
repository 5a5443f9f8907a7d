"""Notes when the storage fails, and when it is well again, so that the desk is told without asking."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import count
from typing import Final, TypeVar

from monreq.services.health import Health, Trouble
from monreq.services.ports import StorageFailed, Writer

Result = TypeVar("Result")

NO_ANSWER: Final = "The database does not answer."
SLOW_S: Final = 0.5  # chosen: what a thumb takes for no answer
_ANSWERS_WITHIN_S: Final = 2.5  # chosen: with what follows, the desk is told within five seconds
_TOLD_S: Final = 60.0  # chosen: long enough to be read, and to see that it goes on


class SlowWatch:
    """Tells that storing is slow, from the first time that it was until it was not for a minute.

    Args:
        monotonic_s: A clock that only counts on. [s]
        busy_s: How long the thread that asks has reckoned: a long list takes that long on any disk. [s]
        told: What is told: another sentence for a disk than for a server.
    """

    def __init__(
        self,
        health: Health,
        monotonic_s: Callable[[], float],
        busy_s: Callable[[], float],
        told: Trouble = Trouble.SLOW,
    ) -> None:
        self._health, self._now_s, self._busy_s, self._told = health, monotonic_s, busy_s, told
        self._numbers = count()
        self._running: dict[int, float] = {}
        self._until_s: float | None = None

    @contextmanager
    def timed(self) -> Iterator[None]:
        """Time what is stored meanwhile."""
        number, began_s, busy_s = next(self._numbers), self._now_s(), self._busy_s()
        self._running[number] = began_s
        try:
            yield
        finally:
            del self._running[number]
            self._judge(self._now_s() - began_s - (self._busy_s() - busy_s), SLOW_S)

    def __call__(self) -> None:
        """Look at what is not stored yet, and whether all went quickly for long enough."""
        for began_s in list(self._running.values()):
            self._judge(self._now_s() - began_s, _ANSWERS_WITHIN_S)
        if self._until_s is not None and self._now_s() >= self._until_s:
            self._until_s = None
            self._health.clear(self._told)

    def _judge(self, took_s: float, most_s: float) -> None:
        if took_s > most_s:
            self._until_s = self._now_s() + _TOLD_S
            self._health.put(self._told, f"{took_s:.1f}")


class WatchedWriter:
    """A `Writer` that is another one, and notes why a job of it failed, and how long it took."""

    def __init__(self, writer: Writer, health: Health, slow: SlowWatch) -> None:
        self._writer, self._health, self._slow = writer, health, slow

    def run(self, job: Callable[[], Result]) -> Result:
        """Run a job and return what it returns, or raise what it raises."""
        with _noted(self._health):
            return self._writer.run(lambda: self._timed(job))

    def _timed(self, job: Callable[[], Result]) -> Result:
        with self._slow.timed():
            return job()


class StorageWatch:
    """Looks after the storage between requests.

    Args:
        look: Reads a little; raises StorageFailed.
        write: Writes a little, where requests are written; raises StorageFailed.
        monotonic_s: A clock that only counts on. [s]
    """

    def __init__(
        self,
        health: Health,
        look: Callable[[], None],
        write: Callable[[], None],
        monotonic_s: Callable[[], float],
    ) -> None:
        self._health, self._look, self._write, self._now_s = health, look, write, monotonic_s
        self._began_s: float | None = None

    def __call__(self) -> None:
        """Look once; only while something is wrong is anything written."""
        self._began_s = self._now_s()
        try:
            self._look_once()
        finally:
            self._began_s = None

    def require_answer(self) -> None:
        """Note, from beside it, that a look does not come to its end."""
        if self._began_s is not None and self._now_s() - self._began_s > _ANSWERS_WITHIN_S:
            self._health.put(Trouble.STORAGE, NO_ANSWER)

    def _look_once(self) -> None:
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
