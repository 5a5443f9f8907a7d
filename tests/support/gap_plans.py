"""Lists of rows to plan, and a second account of what an order costs, kept apart from the one under test."""

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hypothesis import strategies as st

from monreq.domain.gap_plan import Plan, Row, plan

MIXES = ("front", "left", "right", "ears", "drums")


@dataclass(frozen=True)
class Evening:
    """Rows and the times around them; figures are quarters, so that sums of them are exact."""

    rows: tuple[Row, ...]
    gap_s: float = math.inf
    setup_s: float = 0.0
    song_s: float = 0.0
    at_mix: str | None = None

    def plan(self) -> Plan:
        return plan(self.rows, self.gap_s, setup_s=self.setup_s, song_s=self.song_s, at_mix=self.at_mix)

    def cost(self, order: Iterable[Row]) -> float:
        """Price an order, straight from the definition."""
        clock_s, total, at = 0.0, 0.0, self.at_mix
        for row in order:
            if row.mix != at:
                clock_s += self.setup_s
            clock_s += row.move_s
            at = row.mix
            total += row.weight * clock_s
            if clock_s > self.gap_s:
                total += row.weight * self.song_s
        return total

    def least_cost(self) -> float:
        """Price every order there is."""
        return min(self.cost(order) for order in itertools.permutations(self.rows))

    def in_order(self, ids: Sequence[str]) -> list[Row]:
        by_id = {row.id: row for row in self.rows}
        return [by_id[row] for row in ids]


def quarters(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 4), round(high * 4)).map(lambda quarter: quarter / 4)


@st.composite
def row_lists(draw: st.DrawFn, most: int) -> tuple[Row, ...]:
    figures = st.tuples(st.sampled_from(MIXES), quarters(0.25, 20), quarters(0.25, 16))
    drawn = draw(st.lists(figures, max_size=most))
    return tuple(Row(f"r{place}", *figure) for place, figure in enumerate(drawn))


def evenings(most: int) -> st.SearchStrategy[Evening]:
    return st.builds(
        Evening,
        rows=row_lists(most),
        gap_s=st.one_of(st.just(math.inf), quarters(0.25, 120)),
        setup_s=quarters(0, 15),
        song_s=quarters(0, 300),
        at_mix=st.sampled_from((None, *MIXES)),
    )
