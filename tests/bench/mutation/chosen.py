"""A plugin of pytest that runs the tests named in a file, in its order, and writes down the first that failed."""

import json
import os
from pathlib import Path
from typing import Final

import pytest

NAMED: Final = "MONREQ_MUTANTS_TESTS"
"""The name in the environment of the file of JSON with the tests to run."""
FAILED: Final = "MONREQ_MUTANTS_FAILED"
"""The same for the file to add the tests to that failed, one on each line."""


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    named = json.loads(Path(os.environ[NAMED]).read_text())
    place = {nodeid: number for number, nodeid in enumerate(named)}
    items[:] = sorted((one for one in items if one.nodeid in place), key=lambda one: place[one.nodeid])


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    if report.failed:
        with Path(os.environ[FAILED]).open("a") as file:
            file.write(f"{report.nodeid}\n")
