"""What every client did and heard: invoked, then ok, failed, or unknown; nothing is judged here."""

import threading
from dataclasses import dataclass, field
from enum import Enum
from typing import Any


class End(Enum):
    """How a call ended, as its client saw it."""

    OK = "ok"
    FAILED = "failed"
    UNKNOWN = "unknown"
    """No answer: it may have been taken or not. The same call is sent again until it is answered."""


@dataclass
class Call:
    """One thing that a client wanted.

    Attributes:
        mix: Whose phone; empty for a desk.
        body: All that was sent, its client id in it.
        answer: What came back with a 2xx, the first time.
        again: What came back later, when it was sent once more.
        tries: How often it was sent.
        status: What the last try was answered with; 0 for no answer.
    """

    mix: str
    path: str
    body: dict[str, Any]
    end: End = End.UNKNOWN
    answer: dict[str, Any] = field(default_factory=dict)
    again: list[dict[str, Any]] = field(default_factory=list)
    tries: int = 0
    status: int = 0


class History:
    """All calls of a round, in the order in which they began."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self.calls: list[Call] = []

    def begin(self, call: Call) -> Call:
        with self._lock:
            self.calls.append(call)
        return call

    def of(self, *, desk: bool) -> list[Call]:
        """Return the calls of the desks, or of the phones."""
        return [call for call in self.calls if (call.mix == "") is desk]
