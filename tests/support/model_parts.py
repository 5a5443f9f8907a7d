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
