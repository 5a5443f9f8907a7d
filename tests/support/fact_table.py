"""One table of published values, with an eye on which of its items a test has read."""

import csv
import json
from typing import Any

import pytest

from tests.support.facts import FOLDER, Fact, every_item, facts


def close(fact: Fact) -> object:
    """Return what equals the published value within its tolerance."""
    return pytest.approx(fact.expected, abs=max(fact.tolerance, 1e-12), rel=0)


class FactTable:
    """A table in `tests/external/facts`."""

    def __init__(self, name: str) -> None:
        self.name = name
        self._read: set[str] = set()

    def read(self, *items: str) -> list[Fact]:
        """Return the rows of some items, each at least once."""
        self._read.update(items)
        return facts(self.name, *items)

    def read_texts(self, item: str) -> list[tuple[dict[str, Any], str]]:
        """Return what goes in and the words that come out, of an item that has no figure."""
        self._read.add(item)
        with (FOLDER / f"{self.name}.csv").open(encoding="utf-8", newline="") as lines:
            return [
                (json.loads(row["inputs"]), row["expected"])
                for row in csv.DictReader(lines)
                if row["item"] == item
            ]

    def unread(self) -> set[str]:
        """Return the items that no test has read."""
        return every_item(self.name) - self._read
