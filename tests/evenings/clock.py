"""The clock and the chance of a simulated evening, put into the one file of the program that owns both."""

import random
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import monreq.app

START_MS = 1_800_000_000_000  # chosen: a day like any other
MS_PER_S = 1000


class Clock:
    """Stands in for the module `time` there; only `wait` moves it."""

    def __init__(self) -> None:
        self.now_ms = START_MS

    def time_ns(self) -> int:
        return self.now_ms * 1_000_000

    def monotonic(self) -> float:
        return self.now_ms / MS_PER_S

    def thread_time(self) -> float:
        return 0.0

    def wait(self, seconds: float) -> None:
        """Let time pass."""
        self.now_ms += round(seconds * MS_PER_S)


class Chance:
    """Stands in for the module `secrets` there, so that the ids of an evening are the same each time."""

    def __init__(self, seed: int) -> None:
        self._dice = random.Random(f"ids {seed}")

    def choice(self, letters: Sequence[str]) -> str:
        return self._dice.choice(letters)

    def token_bytes(self, count: int) -> bytes:
        return self._dice.randbytes(count)


@contextmanager
def ruled(clock: Clock, chance: Chance) -> Iterator[None]:
    """Let the program read this clock and draw from this chance."""
    own = {name: vars(monreq.app)[name] for name in ("time", "secrets")}
    vars(monreq.app).update(time=clock, secrets=chance)
    try:
        yield
    finally:
        vars(monreq.app).update(own)
