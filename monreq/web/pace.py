"""How fast one mix's phones and programs may send: a bucket of tokens per mix, in memory."""

import math
import threading
from dataclasses import dataclass

BURST = 40  # chosen: a whole soundcheck's list typed in at once
PER_SECOND = 5  # chosen: faster than a thumb, slower than a flood
RETRY_AFTER_S = math.ceil(1 / PER_SECOND)
"""When to try again at the latest, as the Retry-After header counts. [s]"""


@dataclass(frozen=True, slots=True)
class _Bucket:
    left: float
    at_s: float

    def filled(self, now_s: float) -> float:
        """Return what is in it by now; a clock that steps back adds nothing."""
        return min(BURST, self.left + max(0.0, now_s - self.at_s) * PER_SECOND)


class Pace:
    """Lets through a burst, then a steady few a second, for each key of its own."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._buckets: dict[tuple[str, str], _Bucket] = {}

    def lets_through(self, show_id: str, mix: str, now_s: float) -> bool:
        """Take one from the bucket of a mix, if there is one in it.

        Args:
            show_id: The show of the mix.
            mix: One that exists: the number of buckets is the number of mixes.
            now_s: Of a clock that only counts on. [s]
        """
        with self._lock:
            left = self._buckets.get((show_id, mix), _Bucket(BURST, now_s)).filled(now_s)
            is_enough = left >= 1
            self._buckets[show_id, mix] = _Bucket(left - is_enough, now_s)
        return is_enough
