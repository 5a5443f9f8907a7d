"""A plugin of pytest that finds which tests run which lines of monreq: one file of JSON for each file of tests.

Only tests that pass are in it. What is made for more than one test counts for all tests of the file.
"""

import json
import os
from collections import defaultdict
from collections.abc import Generator
from pathlib import Path
from typing import Any, Final

import pytest
from coverage import Coverage

from tests.bench.mutation.seen import file_of, kept_at

INTO: Final = "MONREQ_MUTANTS_MAP"
"""The name in the environment of the folder to write into."""
SHARED: Final = "*"


class _Lines:
    """What the tests of the file at work ran."""

    def __init__(self, root: Path, into: Path) -> None:
        self._root = root
        self._into = into
        self._coverage = Coverage(
            data_file=None, config_file=False, include=[str(root / "monreq" / "*")], messages=False
        )
        self._coverage.set_option("run:disable_warnings", ["no-data-collected", "trace-changed"])
        self._coverage.start()
        self._seconds: dict[str, float] = defaultdict(float)
        self._failed: set[str] = set()
        self._before = ""

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(
        self, item: pytest.Item, nextitem: pytest.Item | None
    ) -> Generator[None, object, object]:
        if not self._seconds:
            self._coverage.stop()
            self._coverage.erase()  # what ran while modules were imported is no test's
            self._coverage.start()
        self._coverage.switch_context(item.nodeid)
        self._seconds[item.nodeid] += 0
        answer = yield
        file = file_of(item.nodeid)
        if nextitem is None or file_of(nextitem.nodeid) != file:
            self._write(file)
        return answer

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: pytest.FixtureDef[Any]) -> Generator[None, object, object]:
        if fixturedef.scope == "function":
            return (yield)
        nodeid = next(reversed(self._seconds), "")
        self._coverage.switch_context(SHARED)
        try:
            return (yield)
        finally:
            self._coverage.switch_context(nodeid)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self._seconds[report.nodeid] += report.duration
        if not report.passed:
            self._failed.add(report.nodeid)

    def _write(self, file: str) -> None:
        data = self._coverage.get_data()
        tests = list(self._seconds)
        number = {nodeid: place for place, nodeid in enumerate(tests)} | {SHARED: -1}
        lines = {
            Path(path).relative_to(self._root).as_posix(): {
                line: sorted(number[context] for context in contexts if context in number)
                for line, contexts in data.contexts_by_lineno(path).items()
            }
            for path in data.measured_files()
        }
        told = {
            "tests": [
                [nodeid, round(seconds, 3), nodeid not in self._failed]
                for nodeid, seconds in self._seconds.items()
            ],
            "lines": lines,
        }
        kept_at(self._into, self._root, file).write_text(json.dumps(told, separators=(",", ":")))
        self._seconds.clear()
        self._failed.clear()


def pytest_configure(config: pytest.Config) -> None:
    config.pluginmanager.register(_Lines(config.rootpath, Path(os.environ[INTO])))
