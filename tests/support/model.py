"""A second, simpler account of adding up, written without the domain: what the domain's is compared with.

Figures only: a place is (mix, source or None); each place has a start figure, and what was done or corrected there.
"""

from collections import defaultdict
from dataclasses import dataclass, field

from tests.support.model_parts import Done, Place, Preamp, Queue, RowName, Wish

LOWEST, HIGHEST = {"level": -900, "pan": -100}, {"level": 100, "pan": 100}


@dataclass
class Model(Queue):
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
        one = self.decisions[decision]
        return all(
            self.can_move(
                (*place, kind), -change - (self.is_up_again(decision) if (*place, kind) == one.row else 0)
            )
            for (place, kind), change in one.changes.items()
        )

    def correct(self, place: Place, level: int) -> dict[str, int]:
        """Set a level by hand: return what is left, by preamp, of what was still to go up there."""
        up = level - self.figure(place, "level")
        self.corrected[place, "level"] += up
        if not up:
            return {}
        row: RowName = (*place, "level")
        left: dict[str, int] = {}
        for decision in self.decisions.values():
            decision.is_settled = decision.is_settled or decision.row == row
        for one in [self.wishes[wish] for wish in self.waiting(row)]:
            if one.is_put_back:
                one.where = "withdrawn"
            elif one.preamp and one.amount > 0 and up > 0:
                one.where = "withdrawn"
                left[one.preamp] = left.get(one.preamp, 0) + max(0, one.amount - up)
        return {preamp: amount for preamp, amount in left.items() if amount}

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

    def undo(self, decision: str, held_back: dict[tuple[Place, str], int], in_place: dict[str, int]) -> None:
        """Take a decision back, but for what is held back of it.

        What was lowered for a preamp given up since is put back by it; what was put back waits as a new wish, and so does
        the rest for a preamp of which some stays in place.
        """
        undone, ups = self.decisions[decision], self.is_up_again(decision)
        self.corrected[undone.row[:2], undone.row[2]] -= ups
        for place, amount in held_back.items():
            self.corrected[place] -= amount
        for preamp, (_, rest) in self.put_back_by_undo(decision).items():
            for one in self.wishes.values():
                is_same = one.preamp == preamp and one.row == undone.row and one.where in ("open", "aside")
                if one.is_put_back and is_same and rest is not None:
                    one.where = "withdrawn"
        came_from = "aside" if undone.outcome == "set_aside" else "answered"
        back = [
            wish
            for wish in undone.wishes
            if self.wishes[wish].where == came_from
            and self.waits_as_before(decision, wish)
            and self.wishes[wish].preamp not in in_place
        ]
        undone.is_undone = True
        for wish in back:
            self.wishes[wish].where = "open"
        self._cancel(undone.row)

    def in_place(self, decision: str, held_back: dict[tuple[Place, str], int]) -> dict[str, int]:
        """Return how much of what was lowered for turned preamps an undo leaves so, because it is held back. [0.1 dB]."""
        mix, source, kind = self.decisions[decision].row
        up, stays = held_back.get(((mix, source), kind), 0), {}
        lowered = {} if kind == "pan" else self.got(decision)
        for preamp in dict.fromkeys(self.wishes[wish].preamp for wish in lowered):
            is_turned = preamp in self.preamps and self.preamps[preamp].is_turned
            stays[preamp] = min(up, -min(0, self._for(decision, preamp))) if is_turned else 0
            up -= stays[preamp]
        return {preamp: amount for preamp, amount in stays.items() if amount}

    def waits_as_before(self, decision: str, wish: str) -> bool:
        """Return whether a wish is open again once its decision is undone: not what waits already, or is settled."""
        undone, one = self.decisions[decision], self.wishes[wish]
        if not one.preamp or undone.outcome == "set_aside":
            return True
        if undone.outcome == "done":
            return not one.is_put_back and self.got(decision)[wish] == one.amount
        is_set = undone.is_settled and one.amount > 0 and one.row[2] == "level"
        if one.preamp in self.dropped:
            is_set |= self.still_down(one.preamp, one.row) < one.amount + self.waits(one.preamp, one.row)
        return wish not in self.kept(decision) and not is_set

    def put_back_by_undo(self, decision: str) -> dict[str, tuple[int, int | None]]:
        """Return for each preamp given up since how far an undo puts up, and what waits then; None if all that does."""
        undone = self.decisions[decision]
        ends: dict[str, tuple[int, int | None]] = {}
        for preamp in self.dropped:
            lowered = -self._for(decision, preamp)
            if lowered > 0:
                down = self.still_down(preamp, undone.row)
                rest = max(0, down - lowered)
                ends[preamp] = (min(lowered, down), rest if rest < self.waits(preamp, undone.row) else None)
        return ends

    def is_up_again(self, decision: str) -> int:
        """Return how much of what a decision lowered for preamps given up since is up again by now."""
        ends = self.put_back_by_undo(decision)
        return sum(-self._for(decision, preamp) - up for preamp, (up, _) in ends.items())

    def still_down(self, preamp: str, row: RowName) -> int:
        """Return how far a place is down for a preamp that was given up, since a hand set it."""
        since = [
            name
            for name, one in self.decisions.items()
            if one.row == row and not one.is_undone and not one.is_settled
        ]
        down = -sum(self._for(name, preamp) + self._for(name, preamp, is_put_back=True) for name in since)
        return max(down, self.waits(preamp, row))

    def waits(self, preamp: str, row: RowName) -> int:
        waiting = [self.wishes[wish] for wish in self.waiting(row)]
        return sum(one.amount for one in waiting if one.is_put_back and one.preamp == preamp)

    @property
    def dropped(self) -> set[str]:
        """The preamps that were given up."""
        compensated = {one.preamp for one in self.wishes.values() if one.preamp and not one.is_put_back}
        return compensated - self.preamps.keys()

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

    def got(self, decision: str) -> dict[str, int]:
        """Return how much of a decision each of the desk's own wishes got.

        What was not done, or done too far, is kept from what is put back and then from preamps, the last asked first; but
        before what is put back from musicians who wish the same way.
        """
        one = self.decisions[decision]
        if one.outcome != "done":
            return {}
        mix, source, kind = one.row
        missing = sum(self.wishes[wish].amount for wish in one.wishes)
        missing -= one.changes.get(((mix, source), kind), 0)
        got = {}
        in_order = [wish for wish in self.wishes if wish in one.wishes and self.wishes[wish].preamp]
        to_put_back = sum(self.wishes[wish].amount for wish in in_order if self.wishes[wish].is_put_back)
        musicians = sum(self.wishes[wish].amount for wish in one.wishes if wish not in in_order)
        if to_put_back > 0 and musicians > 0:
            missing -= min(max(missing, 0), musicians)
        elif to_put_back < 0 and musicians < 0:
            missing -= max(min(missing, 0), musicians)
        for is_put_back in (True, False):
            for wish in reversed(in_order):
                amount = self.wishes[wish].amount
                if self.wishes[wish].is_put_back is is_put_back:
                    without = min(max(missing, 0), amount) if amount > 0 else max(min(missing, 0), amount)
                    missing, got[wish] = missing - without, amount - without
        return got

    def kept(self, decision: str) -> list[str]:
        """Return what *not done* leaves waiting: the desk's own beside others, a preamp's beside what is put back."""
        wishes = self.decisions[decision].wishes
        own = [wish for wish in wishes if self.wishes[wish].preamp]
        preamps = [wish for wish in own if not self.wishes[wish].is_put_back]
        if len(own) < len(wishes):
            return own
        return preamps if len(preamps) < len(own) else []

    def left_by(self, decision: str) -> dict[str, int]:
        """Return what a decision leaves of what the desk itself had waiting, by what it is for."""
        outcome, got = self.decisions[decision].outcome, self.got(decision)
        if outcome == "not_done":
            return self._by_preamp(decision, {wish: self.wishes[wish].amount for wish in self.kept(decision)})
        return self._by_preamp(
            decision, {wish: self.wishes[wish].amount - amount for wish, amount in got.items()}
        )

    def asked_again(self, decision: str) -> dict[str, int]:
        """Return what waits again once a decision is undone, as much as was done for it, by what it is for."""
        new = {
            wish: amount
            for wish, amount in self.got(decision).items()
            if not self.waits_as_before(decision, wish)
            and (self.wishes[wish].is_put_back or self.wishes[wish].preamp in self.preamps)
        }
        return self._by_preamp(decision, new)

    def to_do_again(self, decision: str, in_place: dict[str, int]) -> dict[str, int]:
        """Return what waits newly once a decision is undone, by what it is for: not what stays in place for a preamp."""
        again = self.asked_again(decision)
        rests = {preamp: self._for(decision, preamp) + stays for preamp, stays in in_place.items()}
        new = {preamp: amount for preamp, amount in again.items() if preamp not in in_place}
        return {**new, **{preamp: amount for preamp, amount in rests.items() if amount}}

    def _by_preamp(self, decision: str, amounts: dict[str, int]) -> dict[str, int]:
        sums: dict[str, int] = {}
        for wish in self.decisions[decision].wishes:
            if wish in amounts:
                preamp = self.wishes[wish].preamp
                sums[preamp] = sums.get(preamp, 0) + amounts[wish]
        return {preamp: amount for preamp, amount in sums.items() if amount}

    def lowered_for(self, preamp: str) -> list[tuple[str, int, bool]]:
        """Return how far down each mix still is for a preamp, and whether a hand set it since."""
        lowered: dict[tuple[str, bool], int] = defaultdict(int)
        for name, one in self.decisions.items():
            done = self._for(name, preamp)
            if done and not one.is_undone:
                lowered[one.row[0], one.is_settled] += done
        return [(mix, -amount, is_settled) for (mix, is_settled), amount in lowered.items() if amount < 0]

    def _for(self, decision: str, preamp: str, *, is_put_back: bool = False) -> int:
        """Return how far a decision went for a preamp, or to put back what was lowered for it."""
        got = self.got(decision)
        same = [wish for wish in got if self.wishes[wish].is_put_back is is_put_back]
        return sum(got[wish] for wish in same if self.wishes[wish].preamp == preamp)

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
