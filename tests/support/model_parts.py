"""What the second account of adding up is made of: see `model`."""

from dataclasses import dataclass

Place = tuple[str, str | None]
RowName = tuple[str, str | None, str]


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
    is_settled: bool = False


@dataclass
class Preamp:
    """A change of gain as the model sees it."""

    change: int
    is_turned: bool = False


class Queue:
    """What waits, of all wishes by id in the order of asking."""

    wishes: dict[str, Wish]

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
