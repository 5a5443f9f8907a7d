"""What a judge found, and the last steps that led there."""

from collections import deque
from typing import Final

_LAST: Final = 25  # chosen: as much as one reads


class Found(AssertionError):  # noqa: N818 - said to a person; the name says what it is
    """Something that no evening may show; its text says which judge found what."""

    def __init__(self, judge: str, what: str) -> None:
        super().__init__(f"{judge}: {what}")
        self.judge = judge


class Trail:
    """What was done last, by whom."""

    def __init__(self) -> None:
        self._steps: deque[str] = deque(maxlen=_LAST)
        self.count = 0

    def note(self, who: str, what: str) -> None:
        self.count += 1
        self._steps.append(f"{self.count}. {who}: {what}")

    def told(self) -> str:
        """Return the last steps, a line each."""
        return "\n".join(self._steps)
