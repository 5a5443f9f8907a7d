"""Partitions into groups against every partition there is."""

import math
import random
from collections.abc import Collection, Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.domain.aux_partition import best_partition, merged_step_by_step
from monreq.domain.aux_points import Points, members, merge_bounds


def points_of(levels: list[list[float]], apart: Collection[frozenset[int]] = ()) -> Points:
    numbers = range(len(levels))
    return Points(
        apart=[[math.dist(one, other) ** 2 / len(one) for other in levels] for one in levels],
        may_share=[
            sum(1 << other for other in numbers if other != one and frozenset({one, other}) not in apart)
            for one in numbers
        ],
    )


def partitions(count: int) -> Iterator[list[list[int]]]:
    """Yield every partition of the numbers below a count."""
    if not count:
        yield []
        return
    for smaller in partitions(count - 1):
        yield [*smaller, [count - 1]]
        for place in range(len(smaller)):
            yield [group + [count - 1] * (at == place) for at, group in enumerate(smaller)]


def least_cost(points: Points, groups: int) -> float:
    """Price every partition into so many groups; infinite if there is none."""
    costs = (
        sum(points.cost(group) for group in partition)
        for partition in partitions(len(points))
        if len(partition) == groups and all(is_allowed(points, group) for group in partition)
    )
    return min(costs, default=math.inf)


def is_allowed(points: Points, group: list[int]) -> bool:
    return all(one == other or points.may_share[one] >> other & 1 for one in group for other in group)


@st.composite
def mixes(draw: st.DrawFn) -> Points:
    count = draw(st.integers(1, 7))
    level = st.integers(-30, 0).map(float)
    levels = draw(st.lists(st.lists(level, min_size=3, max_size=3), min_size=count, max_size=count))
    pair = st.frozensets(st.integers(0, count - 1), min_size=2, max_size=2)
    return points_of(levels, draw(st.sets(pair, max_size=8)) if count > 1 else set())


@settings(deadline=None)
@given(mixes(), st.data())
def test_partition_costs_as_little_as_any(points: Points, data: st.DataObject) -> None:
    groups = data.draw(st.integers(1, len(points)))
    least = least_cost(points, groups)

    found = best_partition(points, groups)

    if found is None:
        assert math.isinf(least)
    else:
        assert found[1]
        assert sum(map(points.cost, found[0])) == pytest.approx(least, abs=1e-9)


@settings(deadline=None)
@given(mixes(), st.data())
def test_partition_has_every_mix_once_and_keeps_apart_what_must_not_share(
    points: Points, data: st.DataObject
) -> None:
    found = best_partition(points, data.draw(st.integers(1, len(points))))

    groups = found[0] if found else ()
    assert sorted(number for group in groups for number in group) == (
        list(range(len(points))) if found else []
    )
    assert all(is_allowed(points, list(group)) for group in groups)


@settings(deadline=None)
@given(mixes())
def test_bounds_are_never_above_the_cost(points: Points) -> None:
    bounds = merge_bounds(points, (1 << len(points)) - 1)

    for groups in range(1, len(points) + 1):
        merges = len(points) - groups
        bound = bounds[merges] if merges < len(bounds) else math.inf
        assert bound <= least_cost(points, groups) + 1e-9


@pytest.mark.parametrize("groups", [15, 12, 8, 5])
def test_partition_of_sixteen_alike_in_fours_is_exact(groups: int) -> None:
    chance = random.Random(groups)
    kinds = [[chance.uniform(-30, 0) for _ in range(20)] for _ in range(4)]
    points = points_of([[level + chance.gauss(0, 3) for level in kinds[mix % 4]] for mix in range(16)])

    found = best_partition(points, groups)

    assert found is not None
    assert found[1]
    assert len(found[0]) == groups
    assert sum(map(points.cost, found[0])) <= sum(map(points.cost, merged_step_by_step(points)[groups]))


def test_step_by_step_alone_can_miss_the_best() -> None:
    points = points_of([[0.0], [4.0], [6.1], [10.0]])

    found = best_partition(points, 2)

    assert found is not None
    assert sum(map(points.cost, found[0])) == pytest.approx(8 + 3.9**2 / 2)


def test_partition_of_more_than_sixteen_says_that_it_may_not_be_the_best() -> None:
    found = best_partition(points_of([[float(level)] for level in range(20)]), 10)

    assert found is not None
    assert not found[1]


def test_numbers_of_a_mask() -> None:
    assert members(0b101001) == [0, 3, 5]
