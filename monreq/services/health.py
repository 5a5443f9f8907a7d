"""What is wrong with the laptop just now, for the desk to be told in a line each, and the log when it begins and ends."""

import logging
import threading
from dataclasses import dataclass
from enum import Enum
from typing import Final

LOG = logging.getLogger(__name__)


class Trouble(Enum):
    """A thing that can be wrong, in the order in which it is told."""

    STORAGE = "storage"
    SLOW = "slow"
    DATABASE_SLOW = "database_slow"
    REDIS = "redis"
    ADDRESS = "address"
    DISK_LOW = "disk_low"
    COPIES = "copies"
    CLOCK = "clock"


_BY_CAUSE: Final = (Trouble.STORAGE, Trouble.COPIES)
"""Of these another cause is another line in the log; of the others only a figure changes."""


@dataclass(frozen=True, slots=True)
class Notice:
    """One thing that is wrong.

    Attributes:
        facts: What its sentence is filled with.
    """

    trouble: Trouble
    facts: tuple[str, ...] = ()


class Health:
    """What is wrong now; empty is well."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._notices: dict[Trouble, Notice] = {}

    def notices(self) -> tuple[Notice, ...]:
        """Return what is wrong now."""
        with self._lock:
            return tuple(self._notices[one] for one in Trouble if one in self._notices)

    def has(self, trouble: Trouble) -> bool:
        """Tell whether this is wrong now."""
        with self._lock:
            return trouble in self._notices

    def put(self, trouble: Trouble, *facts: str) -> None:
        """Note what is wrong; a newer notice of one kind stands in the place of the older."""
        with self._lock:
            before = self._notices.get(trouble)
            self._notices[trouble] = Notice(trouble, facts)
        if before is None or (trouble in _BY_CAUSE and before.facts != facts):
            LOG.warning("trouble: %s", " ".join((trouble.value, *facts)))

    def clear(self, trouble: Trouble) -> None:
        """Note that it is well again."""
        with self._lock:
            before = self._notices.pop(trouble, None)
        if before is not None:
            LOG.warning("trouble is over: %s", trouble.value)
