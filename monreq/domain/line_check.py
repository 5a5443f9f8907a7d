"""A line check over all: the desk asks every mix "can you hear it?", and gathers yes and no."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Heard:
    """What one musician of a mix answered. [ms since 1970, UTC]."""

    musician: str
    is_heard: bool
    at_ms: int


@dataclass(frozen=True, slots=True)
class LineCheck:
    """The line check that runs, or the last one.

    Attributes:
        source: What is listened for; None: whatever sounds now.
        mixes: Those that were asked, each with the source on at that moment.
        answers: The latest of each who hears a mix, by its id, the last one last.
    """

    id: str
    source: str | None
    mixes: tuple[str, ...]
    at_ms: int
    answers: Mapping[str, tuple[Heard, ...]] = field(default_factory=dict)
    is_over: bool = False

    def asks(self, mix: str) -> bool:
        """Whether it runs and asks this mix."""
        return not self.is_over and mix in self.mixes

    def answer_of(self, mix: str, musician: str) -> Heard | None:
        """Return what a musician of a mix answered last, None if nothing yet."""
        return next((one for one in self.answers.get(mix, ()) if one.musician == musician), None)
