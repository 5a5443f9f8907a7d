"""The gap plan: in which order the waiting rows are worked, so that those who wait most and matter most wait least."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from monreq.domain.gap_plan_bound import least_cost
from monreq.domain.gap_plan_exact import MOST_SETS, count_sets, exact_order, precedence
from monreq.domain.gap_plan_near import near_order
from monreq.domain.gap_problem import GapProblem
from monreq.domain.plan_refusals import BadTime, BadWeight, NoGap, RowTwice

LONGEST_S = 1e6
"""Chosen: eleven days are no part of an evening. [s]."""

HEAVIEST = 1e12
"""Chosen: far above what any row comes to, and sums of it stay exact enough."""

MOST_ROWS_EXACT = 64
"""Chosen: with more rows exact planning is hardly ever affordable, and finding out would cost time."""


@dataclass(frozen=True, slots=True)
class Row:
    """What the plan needs to know of a row of the queue.

    Attributes:
        id: Unique in the list.
        mix: The mix it belongs to.
        move_s: How long its move takes, set-up not counted. [s]
        weight: How much its waiting counts, above zero.
    """

    id: str
    mix: str
    move_s: float
    weight: float


@dataclass(frozen=True, slots=True)
class Plan:
    """An order of rows.

    Attributes:
        order: The ids of all rows, first to do first.
        cost: Sum of weight times completion, a song more for what ends after the gap. [weighted s]
        ends_s: When each row of the order is done, counted from now. [s]
        gap_s: The gap it was made for. [s]
        is_exact: Whether no order costs less; if not, it is near the best.
        least_cost: What no order can undercut, so how far from the best this one is at most. [weighted s]
    """

    order: tuple[str, ...]
    cost: float
    ends_s: tuple[float, ...]
    gap_s: float
    is_exact: bool
    least_cost: float

    @property
    def in_gap(self) -> tuple[str, ...]:
        """The rows that are done within the gap."""
        return tuple(row for row, end_s in zip(self.order, self.ends_s, strict=True) if end_s <= self.gap_s)


def plan(
    rows: Iterable[Row], gap_s: float, *, setup_s: float, song_s: float, at_mix: str | None = None
) -> Plan:
    """Order rows so that the weighted time until they are done is least.

    An order gives each row its completion: set-ups and moves up to and including its own. What ends after the gap is
    done in the next one and pays a song more. The order is exact for any ten rows, and for up to 64 where few orders
    can be best; beyond that it is near the best (see `gap_plan_near`), and `least_cost` tells how near at least. In
    either case it costs no more than the order given, which is that of asking, and is the same for the same rows.

    Args:
        rows: In the order of asking. Urgent calls are not planned: they stand first.
        gap_s: How long the gap lasts, above zero, may be infinite. [s]
        setup_s: Going to another mix. [s]
        song_s: The song that follows. [s]
        at_mix: The mix the desk is on, which needs no going to; None if it is on none.

    Raises:
        NoGap: The gap is not above zero.
        BadTime: Another time is negative, not finite, or absurd.
        BadWeight: A weight is not above zero, not finite, or absurd.
        RowTwice: An id stands twice.

    References:
        Without set-ups and in an endless gap: Smith, Naval Research Logistics Quarterly 3, 1956.
    """
    listed = list(rows)
    _check(listed, gap_s, setup_s, song_s)
    problem = _problem(listed, gap_s, setup_s, song_s, at_mix)
    order, is_exact = _order(problem)
    return Plan(
        order=tuple(listed[row].id for row in order),
        cost=problem.cost(order),
        ends_s=tuple(problem.ends_s(order)),
        gap_s=gap_s,
        is_exact=is_exact,
        least_cost=least_cost(problem),
    )


def _check(rows: Sequence[Row], gap_s: float, setup_s: float, song_s: float) -> None:
    if math.isnan(gap_s) or (gap_s > LONGEST_S and not math.isinf(gap_s)):
        raise BadTime
    if gap_s <= 0:
        raise NoGap
    if not all(0 <= time_s <= LONGEST_S for time_s in (setup_s, song_s, *(row.move_s for row in rows))):
        raise BadTime
    if not all(0 < row.weight <= HEAVIEST for row in rows):
        raise BadWeight
    if len({row.id for row in rows}) < len(rows):
        raise RowTwice


def _problem(
    rows: Sequence[Row], gap_s: float, setup_s: float, song_s: float, at_mix: str | None
) -> GapProblem:
    # Where going to another mix takes no time, all rows are of one mix: fewer orders to look at.
    names = [row.mix if setup_s else "" for row in rows]
    numbers = {name: number for number, name in enumerate(dict.fromkeys(names))}
    return GapProblem(
        moves_s=tuple(row.move_s for row in rows),
        weights=tuple(row.weight for row in rows),
        mixes=tuple(numbers[name] for name in names),
        gap_s=gap_s,
        setup_s=setup_s,
        song_s=song_s,
        at_mix=numbers.get(at_mix) if at_mix is not None else None,
    )


def _order(problem: GapProblem) -> tuple[list[int], bool]:
    """Return an order, and whether it is the best."""
    if len(set(problem.mixes)) <= 1 and problem.longest_s <= problem.gap_s:
        return sorted(problem.rows, key=problem.ratio), True
    if len(problem.rows) <= MOST_ROWS_EXACT:
        before = precedence(problem)
        if count_sets(problem, before, MOST_SETS) <= MOST_SETS:
            return _cheaper(problem, exact_order(problem, before)), True
    return near_order(problem), False


def _cheaper(problem: GapProblem, order: list[int]) -> list[int]:
    """Return the order of asking where it is not dearer, so that nothing is reordered for nothing."""
    asked = list(problem.rows)
    return asked if problem.cost(asked) <= problem.cost(order) else order
