"""Reads the published values beside the tests in `tests/external`."""

import csv
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parents[1] / "external" / "facts"


@dataclass(frozen=True)
class Fact:
    """One published value: what goes in, what comes out, how exactly, and who says so."""

    item: str
    inputs: dict[str, Any]
    expected: float
    tolerance: float
    source: str

    def __str__(self) -> str:
        return f"{self.item} {self.inputs}"


def facts(table: str, *items: str) -> list[Fact]:
    """Return the rows of some items of a table, each item at least once."""
    with (FOLDER / f"{table}.csv").open(encoding="utf-8", newline="") as lines:
        rows = [row for row in csv.DictReader(lines) if row["item"] in items]
    assert {row["item"] for row in rows} == set(items)
    return [
        Fact(
            row["item"],
            json.loads(row["inputs"]),
            float(row["expected"]),
            float(row["tolerance"]),
            row["source"],
        )
        for row in rows
    ]


def every_item(table: str) -> set[str]:
    """Return the items of a table, so that a test can tell that none is left unread."""
    with (FOLDER / f"{table}.csv").open(encoding="utf-8", newline="") as lines:
        return {row["item"] for row in csv.DictReader(lines)}
