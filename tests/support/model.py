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
    """A request as the model sees it; where is one of open, aside, answered, withdrawn, cancelled, dropped."""

    row: RowName
    musician: str
    amount: int
    where: str = "open"
    preamp: str = ""
    is_put_back: bool = False


@dataclass
class Done:
    """A decision as the model sees it: what it moved, by place and kind."""

    row: RowName
    wishes: list[str]
    changes: dict[tuple[Place, str], int]
    outcome: str
    is_undone: bool = False


@dataclass
class Preamp:
    """A change of gain as the model sees it."""

    change: int
    is_turned: bool = False


@dataclass
class Model:
    """All wishes by id in the order of asking, all decisions by id, and figures as plain sums."""

    start: dict[tuple[Place, str], int]
    wishes: dict[str, Wish] = field(default_factory=dict)
    decisions: dict[str, Done] = field(default_factory=dict)
    corrected: dict[tuple[Place, str], int] = field(default_factory=lambda: defaultdict(int))
    preamps: dict[str, Preamp] = field(default_factory=dict)

    def figure(self, place: Place, kind: str) -> int:
        """Return where a place stands: its start, plus corrections, plus every standing decision."""
        standing = (one.changes.get((place, kind), 0) for one in self.decisions.values() if not one.is_undone)
        return self.start[place, kind] + self.corrected[place, kind] + sum(standing)

    def can_move(self, row: RowName, change: int) -> bool:
        mix, source, kind = row
        return LOWEST[kind] <= self.figure((mix, source), kind) + change <= HIGHEST[kind]

    def can_undo(self, decision: str) -> bool:
        changes = self.decisions[decision].changes.items()
        return all(self.can_move((*place, kind), -change) for (place, kind), change in changes)

    def ask(self, wish: str, row: RowName, musician: str, amount: int) -> None:
        self.wishes[wish] = Wish(row, musician, amount)
        self._cancel(row)

    def withdraw(self, wish: str) -> None:
        self.wishes[wish].where = "withdrawn"
        self._cancel(self.wishes[wish].row)

    def answer(
        self, decision: str, wishes: list[str], changes: dict[tuple[Place, str], int], outcome: str
    ) -> None:
        row = self.wishes[wishes[0]].row
        for wish in wishes:
            self.wishes[wish].where = "aside" if outcome == "set_aside" else "answered"
        self.decisions[decision] = Done(row, wishes, changes, outcome)
        self._cancel(row)

    def undo(self, decision: str, held_back: dict[tuple[Place, str], int]) -> None:
        """Take a decision back, but for what is held back of it; what was lowered for a dropped preamp is put back by it."""
        undone = self.decisions[decision]
        undone.is_undone = True
        for place, amount in held_back.items():
            self.corrected[place] -= amount
        dropped = {self.wishes[wish].preamp for wish in undone.wishes} - {""} - self.preamps.keys()
        for one in self.wishes.values():
            if one.is_put_back and one.preamp in dropped and one.where == "open" and one.row == undone.row:
                one.where = "withdrawn"
        came_from = "aside" if undone.outcome == "set_aside" else "answered"
        for wish in undone.wishes:
            if self.wishes[wish].where == came_from:
                self.wishes[wish].where = "open"
        self._cancel(undone.row)

    def plan(self, preamp: str, change: int) -> None:
        self.preamps[preamp] = Preamp(change)

    def compensate(self, wish: str, row: RowName, preamp: str) -> None:
        self.wishes[wish] = Wish(row, "desk", -self.preamps[preamp].change, preamp=preamp)

    def put_back(self, wish: str, row: RowName, amount: int, preamp: str = "") -> None:
        """Let what an undo held back, or a preamp that was dropped left down, wait to be put back up."""
        self.wishes[wish] = Wish(row, "desk", amount, preamp=preamp, is_put_back=True)

    def lowered_for(self, preamp: str) -> dict[str, int]:
        """Return how far down each mix still is for a preamp: what was done beyond what else was asked, at most its own."""
        lowered: dict[str, int] = defaultdict(int)
        for one in self.decisions.values():
            wishes = [self.wishes[wish] for wish in one.wishes]
            own = sum(wish.amount for wish in wishes if wish.preamp == preamp and not wish.is_put_back)
            if own < 0 and not one.is_undone and one.outcome == "done":
                beside = sum(wish.amount for wish in wishes) - own
                done = one.changes[(one.row[0], one.row[1]), "level"]
                lowered[one.row[0]] += max(own, min(0, done - beside))
        return {mix: amount for mix, amount in lowered.items() if amount}

    def is_waiting_for(self, preamp: str) -> bool:
        return any(self.wishes[wish].preamp == preamp for wish in self.waiting())

    def turn(self, preamp: str) -> None:
        """Turn a gain; what makes up for turned gains, and comes to nothing in a row, leaves the queue."""
        self.preamps[preamp].is_turned = True
        for row in self.rows():
            own = [wish for wish in self._own(row, "desk") if not wish.is_put_back]
            turned = [wish for wish in own if self.preamps[wish.preamp].is_turned]
            self._cancel_nothing(turned)

    def drop(self, preamp: str) -> None:
        del self.preamps[preamp]
        for wish in self.wishes.values():
            if wish.preamp == preamp and not wish.is_put_back:
                wish.where = "withdrawn" if wish.where in ("open", "aside") else "dropped"

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

    def _own(self, row: RowName, musician: str) -> list[Wish]:
        waiting = [self.wishes[wish] for wish in self.waiting(row)]
        return [wish for wish in waiting if wish.musician == musician]

    def _cancel(self, row: RowName) -> None:
        for musician in {one.musician for one in self.wishes.values()} - {"desk"}:
            self._cancel_nothing(self._own(row, musician))

    def _cancel_nothing(self, own: list[Wish]) -> None:
        if sum(wish.amount for wish in own) == 0:
            for wish in own:
                wish.where = "cancelled"
