"""docs/faults.md held against the tests that it names."""

import ast
import re

from tests.support.serving import ROOT

NAMED = re.compile(r"`(tests/[\w/]+\.py)::(\w+)`")


def functions_in(path: str) -> set[str]:
    tree = ast.parse((ROOT / path).read_text(encoding="utf-8"))
    return {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}


def test_every_test_that_a_promise_names_exists() -> None:
    named = NAMED.findall((ROOT / "docs" / "faults.md").read_text(encoding="utf-8"))

    missing = [f"{path}::{name}" for path, name in named if name not in functions_in(path)]

    assert len(named) >= 25
    assert missing == []


def test_every_invariant_names_a_test() -> None:
    text = (ROOT / "docs" / "faults.md").read_text(encoding="utf-8")

    rows = [line for line in text.splitlines() if re.match(r"\| \d\. ", line)]

    assert [row[2] for row in rows] == list("12345678")
    assert [row for row in rows if not NAMED.search(row)] == []
