"""A second, simpler account of adding up, written without the domain: what the domain's is compared with.

Figures only: a place is (mix, source or None); each place has a start figure, and what was done or corrected there.
"""

from collections import defaultdict
from dataclasses import dataclass, field

Place = tuple[str, str | None]
RowName = tuple[str, str | None, str]

LOWEST, HIGHEST = {"level": -900, "pan": -100}, {"level": 100, "pan": 100}


@dataclass
class Wish:
    """A request as the model sees it; where is one of open, aside, answered, withdrawn, cancelled."""

    row: RowName
    musician: str
    amount: int
    where: str = "open"


@dataclass
class Done:
    """A decision as the model sees it."""

    row: RowName
    wishes: list[str]
    change: int
    outcome: str
    is_undone: bool = False


@dataclass
class Model:
    """All wishes by id in the order of asking, all decisions by id, and figures as plain sums."""

    start: dict[tuple[Place, str], int]
    wishes: dict[str, Wish] = field(default_factory=dict)
    decisions: dict[str, Done] = field(default_factory=dict)
    corrected: dict[tuple[Place, str], int] = field(default_factory=lambda: defaultdict(int))

    def figure(self, place: Place, kind: str) -> int:
        """Return where a place stands: its start, plus corrections, plus every standing decision."""
        standing = (one.change for one in self.decisions.values() if self._moves(one, place, kind))
        return self.start[place, kind] + self.corrected[place, kind] + sum(standing)

    def can_move(self, row: RowName, change: int) -> bool:
        mix, source, kind = row
        return LOWEST[kind] <= self.figure((mix, source), kind) + change <= HIGHEST[kind]

    def ask(self, wish: str, row: RowName, musician: str, amount: int) -> None:
        self.wishes[wish] = Wish(row, musician, amount)
        self._cancel(row)

    def withdraw(self, wish: str) -> None:
        self.wishes[wish].where = "withdrawn"
        self._cancel(self.wishes[wish].row)

    def answer(self, decision: str, wishes: list[str], change: int, outcome: str) -> None:
        row = self.wishes[wishes[0]].row
        for wish in wishes:
            self.wishes[wish].where = "aside" if outcome == "set_aside" else "answered"
        self.decisions[decision] = Done(row, wishes, change, outcome)
        self._cancel(row)

    def undo(self, decision: str) -> None:
        undone = self.decisions[decision]
        undone.is_undone = True
        came_from = "aside" if undone.outcome == "set_aside" else "answered"
        for wish in undone.wishes:
            if self.wishes[wish].where == came_from:
                self.wishes[wish].where = "open"
        self._cancel(undone.row)

    def waiting(self, row: RowName | None = None) -> list[str]:
        """Return the wishes in the queue, of one row or of all, in the order of asking."""
        return [
            wish
            for wish, one in self.wishes.items()
            if one.where in ("open", "aside") and row in (None, one.row)
        ]

    def total(self, row: RowName) -> int:
        return sum(self.wishes[wish].amount for wish in self.waiting(row))

    def rows(self) -> set[RowName]:
        return {self.wishes[wish].row for wish in self.waiting()}

    def _moves(self, decision: Done, place: Place, kind: str) -> bool:
        return not decision.is_undone and decision.outcome == "done" and decision.row == (*place, kind)

    def _cancel(self, row: RowName) -> None:
        for musician in {one.musician for one in self.wishes.values()}:
            own = [self.wishes[wish] for wish in self.waiting(row) if self.wishes[wish].musician == musician]
            if own and sum(wish.amount for wish in own) == 0:
                for wish in own:
                    wish.where = "cancelled"
