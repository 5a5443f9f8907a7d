"""The simulated engineer of the benches against queueing theory; the sources stand in the table's rows.

This checks the simulation that the gap plan's worth is measured with, not the program. Simulated means are held to a
sixteenth, as the table's rows for simulations are (0.25 on a mean of 4); a formula's own tolerance is out of reach.
"""

import random
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import accumulate
from statistics import mean, quantiles

import pytest

from tests.support.facts import Fact, every_item, facts
from tests.support.one_engineer import Desk, Done, Job, first_come, work

pytestmark = pytest.mark.external

TABLE = "12_queueing"
READ: set[str] = set()
SIMULATED = 0.25 / 4
HORIZON = 60_000
"""In mean times of service, for each seed."""
SEEDS = range(4)

Service = Callable[[random.Random], float]


def read(*items: str) -> list[Fact]:
    READ.update(items)
    return facts(TABLE, *items)


def close(fact: Fact) -> object:
    return pytest.approx(fact.expected, rel=SIMULATED)


def comings(chance: random.Random, until: float, name: str, rate: float, service: Service) -> Iterator[Job]:
    """Yield jobs of one class that come at random."""
    between = iter(lambda: chance.expovariate(rate), None)
    for number, came in enumerate(accumulate(between)):
        if came > until:
            return
        yield Job(f"{name}{number}", name, service(chance), (came,))


def exponential(rate: float) -> Service:
    return lambda chance: chance.expovariate(rate)


def served(
    classes: dict[str, tuple[float, Service]], in_turn: str = "", until: float = HORIZON
) -> list[Done]:
    """Serve classes of jobs, first come, first served, or the classes one before the other."""

    def rule(waiting: Sequence[Job], desk: Desk) -> Job:
        if not in_turn:
            return first_come(waiting, desk)
        return min(waiting, key=lambda job: (in_turn.index(job.mix), job.came_s))

    done: list[Done] = []
    for seed in SEEDS:
        chance = random.Random(seed)
        jobs = [job for name, one in classes.items() for job in comings(chance, until, name, *one)]
        done += work(sorted(jobs, key=lambda job: job.came_s), rule)
    return done


def waits(done: list[Done], name: str = "") -> list[float]:
    return [one.began_s - one.job.came_s for one in done if one.job.mix.startswith(name)]


def times_in_system(done: list[Done]) -> list[float]:
    return [one.ended_s - one.job.came_s for one in done]


def single(fact: Fact) -> list[Done]:
    return one_class(fact.inputs["lambda"], fact.inputs["mu"])


@cache
def one_class(rate: float, service_rate: float) -> list[Done]:
    return served({"any": (rate, exponential(service_rate))}, until=HORIZON / service_rate)


@pytest.mark.parametrize("fact", read("mm1.Wq", "mm1.Wq.simulated"), ids=str)
def test_mean_waiting_with_random_service(fact: Fact) -> None:
    """Source: M/M/1, Wq = lambda / (mu (mu - lambda)); Ciw 3.2.7 gave 4.119 for the simulated row."""
    assert mean(waits(single(fact))) == close(fact)


@pytest.mark.parametrize("fact", read("mm1.W"), ids=str)
def test_mean_time_in_the_system(fact: Fact) -> None:
    """Source: M/M/1, W = 1 / (mu - lambda)."""
    assert mean(times_in_system(single(fact))) == close(fact)


@pytest.mark.parametrize("fact", read("mm1.L"), ids=str)
def test_mean_number_in_the_system(fact: Fact) -> None:
    """Source: Little's law, L = lambda W."""
    assert sum(times_in_system(single(fact))) / (HORIZON / fact.inputs["mu"] * len(SEEDS)) == close(fact)


@pytest.mark.parametrize("fact", read("mm1.percentile"), ids=str)
def test_percentile_of_the_time_in_the_system(fact: Fact) -> None:
    """Source: M/M/1, P(W > t) = exp(-(mu - lambda) t), blackboxsoc.com/mm1-percentile.html."""
    percentile = quantiles(times_in_system(single(fact)), n=100)[round(fact.inputs["p"] * 100) - 1]

    assert percentile == close(fact)


@pytest.mark.parametrize("fact", read("mm1.prob_wait"), ids=str)
def test_share_of_those_who_wait_at_all(fact: Fact) -> None:
    """Source: M/M/1, P(Wq = 0) = 1 - rho, same page."""
    assert mean(wait > 0 for wait in waits(single(fact))) == close(fact)


@pytest.mark.parametrize("fact", read("md1.Wq.simulated"), ids=str)
def test_mean_waiting_with_even_service(fact: Fact) -> None:
    """Source: M/D/1, Wq = rho / (2 mu (1 - rho)), Pollaczek and Khinchine; Ciw 3.2.7 gave 1.977."""
    done = served({"any": (fact.inputs["lambda"], lambda _: 1 / fact.inputs["mu"])})

    assert mean(waits(done)) == pytest.approx(fact.expected, abs=fact.tolerance)


@pytest.mark.parametrize("fact", read("priority.Wq"), ids=str)
def test_mean_waiting_of_two_classes(fact: Fact) -> None:
    """Source: Cobham 1954, priority without interruption; Ciw 3.2.7 gave 0.751 and 1.899."""
    rates = dict(zip("hl", fact.inputs["lambda"], strict=True))
    done = served({name: (rate, exponential(1)) for name, rate in rates.items()}, in_turn="hl")

    assert mean(waits(done, fact.inputs["class"][0])) == close(fact)


@pytest.mark.parametrize("fact", read("cmu.cost_rate"), ids=str)
def test_cost_rate_of_two_classes_in_either_order(fact: Fact) -> None:
    """Source: Cobham 1954; the c-mu rule, Kakalik and Little, RAND 1971, says which order costs less."""
    rates, means = fact.inputs["lambda"], fact.inputs["mean_service"]
    classes = {
        name: (rate, exponential(1 / service)) for name, rate, service in zip("AB", rates, means, strict=True)
    }
    done = served(classes, in_turn=fact.inputs["order"])

    costs = zip("AB", fact.inputs["cost"], rates, strict=True)
    rate = sum(cost * each * mean(waits(done, name)) for name, cost, each in costs)

    assert rate == close(fact)


def test_no_row_of_the_table_is_left_unread() -> None:
    """Source: the table itself."""
    assert every_item(TABLE) == READ
