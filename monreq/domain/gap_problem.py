"""The gap plan's problem as plain figures: what an order of rows costs."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class GapProblem:
    """Rows as numbers from 0, in the order of asking, and the times that an order is priced with.

    Attributes:
        moves_s: Time that each row's move takes. [s]
        weights: Each row's weight.
        mixes: Each row's mix, as a number from 0.
        gap_s: The gap's length, may be infinite. [s]
        setup_s: Going to another mix. [s]
        song_s: What a row pays that is not done within the gap. [s]
        at_mix: The mix the desk is on; None where it is on none of these.
    """

    moves_s: Sequence[float]
    weights: Sequence[float]
    mixes: Sequence[int]
    gap_s: float
    setup_s: float
    song_s: float
    at_mix: int | None

    @property
    def rows(self) -> range:
        """The rows, in the order of asking."""
        return range(len(self.moves_s))

    @property
    def rows_by_mix(self) -> list[list[int]]:
        """The rows of each mix, in the order of asking."""
        gathered: list[list[int]] = [[] for _ in range(max(self.mixes, default=-1) + 1)]
        for row in self.rows:
            gathered[self.mixes[row]].append(row)
        return gathered

    @property
    def longest_s(self) -> float:
        """How long it takes with a set-up before every row. [s]."""
        return sum(self.moves_s) + self.setup_s * len(self.moves_s)

    def ratio(self, row: int) -> float:
        """Return a row's time per weight: the smaller, the sooner it pays. [s]."""
        return self.moves_s[row] / self.weights[row]

    def ends_s(self, order: Iterable[int]) -> Iterator[float]:
        """Yield when each row of an order is done. [s]."""
        clock_s = 0.0
        at = self.at_mix
        for row in order:
            clock_s += self.moves_s[row] if self.mixes[row] == at else self.setup_s + self.moves_s[row]
            at = self.mixes[row]
            yield clock_s

    def cost(self, order: Sequence[int]) -> float:
        """Return the sum of weight times completion, and a song more for each row that ends after the gap."""
        # Written out, not by way of `ends_s`: planning a long list prices thousands of orders.
        mixes, moves_s, weights = self.mixes, self.moves_s, self.weights
        at, cost, clock_s = self.at_mix, 0.0, 0.0
        for row in order:
            clock_s += moves_s[row] if mixes[row] == at else self.setup_s + moves_s[row]
            at = mixes[row]
            cost += weights[row] * (clock_s + self.song_s if clock_s > self.gap_s else clock_s)
        return cost
