"""One engineer at one desk, simulated: jobs come, are chosen by some rule, and are worked one at a time."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True)
class Job:
    """Something to do.

    Attributes:
        asked_at_s: Every time it was asked, the first one first, whether or not it was done by then. [s]
        move_s: How long it takes, going to its mix not counted. [s]
    """

    id: str
    mix: str
    move_s: float
    asked_at_s: tuple[float, ...]

    @property
    def came_s(self) -> float:
        """When it was first asked. [s]"""
        return self.asked_at_s[0]

    def asks(self, by_s: float) -> int:
        """How often it was asked by then."""
        return sum(at_s <= by_s for at_s in self.asked_at_s)


@dataclass(frozen=True)
class Desk:
    """What the engineer knows when choosing: the time, when this gap began, and the mix the desk is on."""

    clock_s: float
    gap_began_s: float
    at_mix: str | None


@dataclass(frozen=True)
class Done:
    """A job and when it was begun and done. [s]"""

    job: Job
    began_s: float
    ended_s: float


class Rule(Protocol):
    """Chooses what to do next from what waits, which is in the order of asking."""

    def __call__(self, waiting: Sequence[Job], desk: Desk, /) -> Job: ...


ALWAYS = ((0.0, math.inf),)


def first_come(waiting: Sequence[Job], _desk: Desk) -> Job:
    """Choose what was asked first."""
    return waiting[0]


def oldest_mix(waiting: Sequence[Job], desk: Desk) -> Job:
    """Do all of the mix the desk is on, then go to the mix that has waited longest."""
    return next((job for job in waiting if job.mix == desk.at_mix), waiting[0])


def work(
    jobs: Sequence[Job], rule: Rule, gaps: Sequence[tuple[float, float]] = ALWAYS, setup_s: float = 0.0
) -> Iterator[Done]:
    """Yield what is done, in the order of doing; a move that was begun in a gap is ended.

    Args:
        jobs: In the order of coming.
        rule: Chooses what is done next.
        gaps: When the engineer works: beginnings and ends. [s]
        setup_s: Going to another mix. [s]
    """
    coming, waiting = list(reversed(jobs)), list[Job]()
    at_mix: str | None = None
    clock_s = 0.0
    for began_s, ended_s in gaps:
        clock_s = max(clock_s, began_s)
        while True:
            if not waiting and coming:
                clock_s = max(clock_s, coming[-1].came_s)
            if clock_s >= ended_s or not (waiting or coming):
                break
            while coming and coming[-1].came_s <= clock_s:
                waiting.append(coming.pop())
            job = rule(waiting, Desk(clock_s, began_s, at_mix))
            waiting.remove(job)
            start_s = clock_s
            clock_s += job.move_s + (setup_s if job.mix != at_mix else 0.0)
            at_mix = job.mix
            yield Done(job, start_s, clock_s)
