"""A laptop's clock that leaps when a test says so, in whatever process reads it."""

import time
from pathlib import Path


class LeapingClock:
    """Stands in for the module `time` in `monreq.app`: the time as it is, and as far ahead as a file says. [s]."""

    def __init__(self, file: Path) -> None:
        self._file = file

    def time_ns(self) -> int:
        leapt, jumped = self._ahead_s()
        return time.time_ns() + (leapt + jumped) * 1_000_000_000

    def monotonic(self) -> float:
        leapt, _ = self._ahead_s()
        return time.monotonic() + leapt

    def thread_time(self) -> float:
        return time.thread_time()

    def _ahead_s(self) -> tuple[int, int]:
        leapt, jumped = self._file.read_text().split() if self._file.exists() else (0, 0)
        return int(leapt), int(jumped)


class Leaps:
    """Sets the clocks that read a file ahead.

    Attributes:
        file: The file.
    """

    def __init__(self, file: Path) -> None:
        self.file = file
        self._leapt_s = self._jumped_s = 0

    def leap(self, seconds: int) -> None:
        """Let so much time pass at once."""
        self._leapt_s += seconds
        self._write()

    def jump(self, seconds: int) -> None:
        """Set the time of day ahead, though no time passed."""
        self._jumped_s += seconds
        self._write()

    def _write(self) -> None:
        part = self.file.with_suffix(".part")
        part.write_text(f"{self._leapt_s} {self._jumped_s}")
        part.replace(self.file)
