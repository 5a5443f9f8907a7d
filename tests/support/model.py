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
        """Take a decision back, but for what is held back of it.

        What was lowered for a preamp given up since is put back by it; what was put back waits as a new wish.
        """
        undone = self.decisions[decision]
        undone.is_undone = True
        for place, amount in held_back.items():
            self.corrected[place] -= amount
        lowered = {self.wishes[wish].preamp for wish in undone.wishes if self._is_compensating(wish)}
        dropped = {preamp for preamp in lowered - self.preamps.keys() if self._lowered_by(undone, preamp)}
        for one in self.wishes.values():
            if one.is_put_back and one.preamp in dropped and one.where == "open" and one.row == undone.row:
                one.where = "withdrawn"
        came_from = "aside" if undone.outcome == "set_aside" else "answered"
        for wish in undone.wishes:
            is_new_wish = self.wishes[wish].is_put_back and undone.outcome == "done"
            if self.wishes[wish].where == came_from and not is_new_wish:
                self.wishes[wish].where = "open"
        self._cancel(undone.row)

    def plan(self, preamp: str, change: int) -> None:
        self.preamps[preamp] = Preamp(change)

    def compensate(self, wish: str, row: RowName, preamp: str) -> None:
        self.wishes[wish] = Wish(row, "desk", -self.preamps[preamp].change, preamp=preamp)

    def put_back(self, wish: str, row: RowName, amount: int, group: str = "") -> None:
        """Let what an undo held back, or a preamp that was dropped left down, wait to be put back.

        Args:
            wish: Its id.
            row: Its row.
            amount: What is left to put back.
            group: What it is put back for: a preamp that was dropped, or the first wish of an undo or of several groups.
        """
        self.wishes[wish] = Wish(row, "desk", amount, preamp=group or wish, is_put_back=True)

    def put_back_by(self, decision: str) -> int:
        """Return how much of a decision put something back: what is over once all others have what they asked."""
        one = self.decisions[decision]
        if one.outcome != "done":
            return 0
        mix, source, kind = one.row
        own = self._to_put_back(one)
        beside = sum(self.wishes[wish].amount for wish in one.wishes) - own
        over = one.changes.get(((mix, source), kind), 0) - beside
        return min(own, max(0, over)) if own > 0 else max(own, min(0, over))

    def left_to_put_back(self, decision: str) -> int:
        """Return what a decision leaves to be put back; *not done* gives it up, set aside it still waits itself."""
        one = self.decisions[decision]
        return self._to_put_back(one) - self.put_back_by(decision) if one.outcome == "done" else 0

    def put_back_for(self, decision: str) -> str:
        """Return what a decision put back for, if it is one thing."""
        wishes = [self.wishes[wish] for wish in self.decisions[decision].wishes]
        groups = {wish.preamp for wish in wishes if wish.is_put_back}
        return groups.pop() if len(groups) == 1 else ""

    def lowered_for(self, preamp: str) -> dict[str, int]:
        """Return how far down each mix still is for a preamp."""
        lowered: dict[str, int] = defaultdict(int)
        for one in self.decisions.values():
            if not one.is_undone:
                lowered[one.row[0]] += self._lowered_by(one, preamp)
        return {mix: amount for mix, amount in lowered.items() if amount}

    def _lowered_by(self, decision: Done, preamp: str) -> int:
        """Return how far down a decision went for a preamp: what was done beyond what else was asked, at most its own."""
        wishes = [self.wishes[wish] for wish in decision.wishes]
        own = sum(wish.amount for wish in wishes if wish.preamp == preamp and not wish.is_put_back)
        if own >= 0 or decision.outcome != "done":
            return 0
        beside = sum(wish.amount for wish in wishes) - own
        done = decision.changes[(decision.row[0], decision.row[1]), "level"]
        return max(own, min(0, done - beside))

    def _to_put_back(self, decision: Done) -> int:
        return sum(self.wishes[wish].amount for wish in decision.wishes if self.wishes[wish].is_put_back)

    def _is_compensating(self, wish: str) -> bool:
        return bool(self.wishes[wish].preamp) and not self.wishes[wish].is_put_back

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
