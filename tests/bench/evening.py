"""Evenings simulated, to see what the gap plan is worth: run `python -m tests.bench.evening`.

Seven musicians, each with a mix of their own, ask while songs run and, less, between them. One engineer works in the
gaps, needs time for every move and more for going to another mix, and cannot know how long a gap will be. The same
evenings are worked by each rule. Every figure below is chosen, none was measured on a stage.

What came out (200 evenings): the plan spares a third to a half of the weighted waiting of first come, first served,
at a shorter worst waiting. Going to the mix that waits longest and emptying it does as well, and better when far
more is asked than there is time for: going to another mix is what costs most, and the plan, which must not let a lone
old row starve, goes there more often. To know the length of the gap does not help over an evening: squeezing in what
still fits breaks up the stays at a mix, and the next gap pays for it.
"""

import math
import random
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from operator import mul
from statistics import mean

from monreq.domain.gap_plan import Row, plan
from monreq.domain.weights import weight
from tests.support.one_engineer import Desk, Done, Job, Rule, first_come, oldest_mix, work

EVENINGS = 200
MUSICIANS = 7
SONGS = 16
SONG_S = (180.0, 300.0)
USUAL_GAP_S = 40.0
GAP_SPREAD = 0.5
MOVE_S = 4.0
MOVE_SPREAD = 0.3
SETUP_S = 6.0
ASKS_AGAIN_AFTER_S = 400.0
ROUND_S = sum(SONG_S) / 2 + USUAL_GAP_S
LOADS = {"light": 3.0, "usual": 4.0, "heavy": 7.0}


@dataclass(frozen=True)
class Evening:
    """What comes, and when there is time for it."""

    jobs: tuple[Job, ...]
    gaps: tuple[tuple[float, float], ...]

    @property
    def ended_s(self) -> float:
        """When the last gap ended. [s]"""
        return self.gaps[-1][1]


def evening(seed: int, jobs_per_song: float) -> Evening:
    """Make up an evening, always the same for a seed."""
    chance = random.Random(seed)
    gaps = tuple(_gaps(chance))
    came_s = sorted(_comings(chance, gaps, jobs_per_song))
    jobs = tuple(_job(chance, str(number), at_s, gaps[-1][1]) for number, at_s in enumerate(came_s))
    return Evening(jobs, gaps)


def _gaps(chance: random.Random) -> Iterator[tuple[float, float]]:
    clock_s = 0.0
    for _ in range(SONGS):
        clock_s += chance.uniform(*SONG_S)
        began_s, clock_s = clock_s, clock_s + USUAL_GAP_S * chance.lognormvariate(0, GAP_SPREAD)
        yield began_s, clock_s


def _comings(
    chance: random.Random, gaps: Sequence[tuple[float, float]], jobs_per_song: float
) -> Iterator[float]:
    """Yield when something is asked: twice as much in the first song as on average, hardly any in the last."""
    starts_s = [0.0, *(ended_s for _, ended_s in gaps)]
    for song, (start_s, end_s) in enumerate(pairwise(starts_s)):
        expected = jobs_per_song * 2 * (SONGS - song) / (SONGS + 1)
        clock_s = start_s
        while (clock_s := clock_s + chance.expovariate(expected / (end_s - start_s))) < end_s:
            yield clock_s


def _job(chance: random.Random, name: str, came_s: float, ended_s: float) -> Job:
    asked_at_s = [came_s]
    while asked_at_s[-1] < ended_s:
        asked_at_s.append(asked_at_s[-1] + chance.expovariate(1 / ASKS_AGAIN_AFTER_S))
    return Job(
        id=name,
        mix=f"mix{chance.randrange(MUSICIANS)}",
        move_s=MOVE_S * chance.lognormvariate(0, MOVE_SPREAD),
        asked_at_s=tuple(asked_at_s),
    )


@dataclass
class ByPlan:
    """Works by the gap plan, made again whenever something new has come or a gap begins.

    Attributes:
        weigh: What a job weighs at a time. [s]
        guess_s: How long the engineer takes a gap to be that begins then; infinite: no guess. [s]
    """

    weigh: Callable[[Job, float], float] = field(
        default=lambda job, now_s: weight(job.asks(now_s), now_s - job.came_s, round_s=ROUND_S)
    )
    guess_s: Callable[[float], float] = lambda _: USUAL_GAP_S
    _order: list[str] = field(default_factory=list)
    _gap_began_s: float = -1.0

    def __call__(self, waiting: Sequence[Job], desk: Desk) -> Job:
        by_id = {job.id: job for job in waiting}
        if desk.gap_began_s != self._gap_began_s or not by_id.keys() <= set(self._order):
            self._gap_began_s = desk.gap_began_s
            self._order = list(self._planned(waiting, desk))
        while self._order[0] not in by_id:
            self._order.pop(0)
        return by_id[self._order.pop(0)]

    def _planned(self, waiting: Sequence[Job], desk: Desk) -> tuple[str, ...]:
        left_s = max(self.guess_s(desk.gap_began_s) - (desk.clock_s - desk.gap_began_s), MOVE_S + SETUP_S)
        rows = [Row(job.id, job.mix, MOVE_S, self.weigh(job, desk.clock_s)) for job in waiting]
        return plan(rows, left_s, setup_s=SETUP_S, song_s=sum(SONG_S) / 2, at_mix=desk.at_mix).order


@dataclass(frozen=True)
class Outcome:
    """How an evening went.

    Attributes:
        weighted_s: Mean waiting, each job weighted by how often it was asked. [s]
        mean_s: Mean waiting. [s]
        worst_s: The longest waiting. [s]
        left: Jobs not done by the end; they count as having waited until then.
    """

    weighted_s: float
    mean_s: float
    worst_s: float
    left: int


def outcome(of: Evening, rule: Rule) -> Outcome:
    """Work an evening by a rule."""
    done = {one.job.id: one for one in work(of.jobs, rule, of.gaps, SETUP_S)}
    ends_s = {job.id: _end_s(done.get(job.id), of.ended_s) for job in of.jobs}
    waits_s = [ends_s[job.id] - job.came_s for job in of.jobs]
    weights = [weight(job.asks(ends_s[job.id]), 0, round_s=ROUND_S) for job in of.jobs]
    return Outcome(
        weighted_s=sum(map(mul, weights, waits_s)) / sum(weights),
        mean_s=mean(waits_s),
        worst_s=max(waits_s),
        left=len(of.jobs) - len(done),
    )


def _end_s(done: Done | None, evening_ended_s: float) -> float:
    return evening_ended_s if done is None else done.ended_s


def no_guess(_began_s: float) -> float:
    """Take no gap to end."""
    return math.inf


def known(of: Evening) -> Callable[[float], float]:
    """Know how long each gap of an evening will be, as nobody can."""
    lengths_s = {began_s: ended_s - began_s for began_s, ended_s in of.gaps}
    return lengths_s.__getitem__


RULES: dict[str, Callable[[Evening], Rule]] = {
    "first come, first served": lambda _: first_come,
    "oldest mix first": lambda _: oldest_mix,
    "gap plan, gap of 40 s": lambda _: ByPlan(),
    "gap plan, gap known": lambda of: ByPlan(guess_s=known(of)),
    "gap plan, no guess": lambda _: ByPlan(guess_s=no_guess),
}


@dataclass(frozen=True)
class Summary:
    """Means over many evenings, as in `Outcome`, and the worst waiting of all."""

    weighted_s: float
    mean_s: float
    worst_s: float
    worst_of_all_s: float
    left: float


def summary(evenings: Sequence[Evening], rule: Callable[[Evening], Rule]) -> Summary:
    """Work evenings by a rule."""
    outcomes = [outcome(one, rule(one)) for one in evenings]
    return Summary(
        weighted_s=mean(one.weighted_s for one in outcomes),
        mean_s=mean(one.mean_s for one in outcomes),
        worst_s=mean(one.worst_s for one in outcomes),
        worst_of_all_s=max(one.worst_s for one in outcomes),
        left=mean(one.left for one in outcomes),
    )


def table(count: int) -> Iterator[str]:
    """Yield lines: seconds, and in brackets the ratio to first come, first served."""
    yield f"{count} evenings; seconds (ratio to first come, first served)"
    yield f"{'':36}{'weighted':>14}{'mean':>14}{'worst':>14}{'worst of all':>16}{'left':>7}"
    for load, jobs_per_song in LOADS.items():
        evenings = [evening(seed, jobs_per_song) for seed in range(count)]
        summaries = {name: summary(evenings, rule) for name, rule in RULES.items()}
        base = summaries["first come, first served"]
        for name, one in summaries.items():
            yield (
                f"{load:6} {jobs_per_song:.0f}/song  {name:24}"
                f"{_ratio(one.weighted_s, base.weighted_s)}{_ratio(one.mean_s, base.mean_s)}"
                f"{_ratio(one.worst_s, base.worst_s)}  {_ratio(one.worst_of_all_s, base.worst_of_all_s)}"
                f"{one.left:7.1f}"
            )


def _ratio(figure_s: float, base_s: float) -> str:
    return f"{figure_s:7.0f} ({figure_s / base_s:.2f})"


if __name__ == "__main__":
    for line in table(int(sys.argv[1]) if len(sys.argv) > 1 else EVENINGS):
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()
