"""Runs tests in copies of the project, never in the checkout."""

import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum
from importlib.util import cache_from_source
from itertools import accumulate
from pathlib import Path
from typing import Final

from tests.bench.mutation.chosen import FAILED, NAMED
from tests.bench.mutation.line_map import INTO
from tests.bench.mutation.mutator import Mutant
from tests.bench.mutation.seen import Seen, file_of

_LEFT_OUT: Final = shutil.ignore_patterns(
    ".git", ".venv", ".cache", ".hypothesis", ".*_cache", "node_modules"
)
_FIRST_S: Final = 15  # chosen: so long the quickest files are tried before the others are even imported
_MOST_S: Final = 120  # chosen: what so much of the tests that run it do not find counts as not found
_PATIENCE_S: Final = 60  # chosen: to start, on a busy machine
_TIMES_LONGER: Final = 5  # chosen: what takes longer than so many times its time hangs
_PASSED, _NONE = 0, 5


class End(StrEnum):
    """What became of a mutant."""

    FOUND = "found"
    HUNG = "ran out of time"
    SURVIVED = "survived"


@dataclass(frozen=True)
class Tried:
    """One mutant and what became of it."""

    mutant: Mutant
    before: str
    after: str
    end: End
    tests: int
    by: str
    """The test that failed, or that could not be imported; else empty."""


@dataclass(frozen=True)
class Copy:
    """A copy of the project that tests run in."""

    root: Path

    def map(self, files: Sequence[str], into: Path) -> None:
        """Write down which lines the tests of some files run."""
        into.mkdir(parents=True, exist_ok=True)
        self._pytest(["-p", "tests.bench.mutation.line_map", *files], {INTO: str(into)}, None)

    def try_out(self, mutant: Mutant, seen: Seen) -> Tried:
        """Put a mutant in, run the tests that run it until one fails, and take it out again."""
        path = self.root / mutant.path
        source = path.read_bytes()
        tests = seen.running(mutant)
        end, by = End.SURVIVED, ""
        try:
            _write(path, mutant.of(source))
            for batch in filter(None, _batches(tests, seen)):
                end, by = self._end(batch, sum(seen.seconds[one] for one in batch))
                if end is not End.SURVIVED:
                    break
        finally:
            _write(path, source)
        return Tried(mutant, *mutant.text(source), end, len(tests), by)

    def failing(self, tests: Sequence[str]) -> list[str]:
        """Return those that fail by themselves, with no mutant in."""
        return self._run(tests, None, [])[1]

    def _end(self, tests: Sequence[str], seconds: float) -> tuple[End, str]:
        try:
            code, failed = self._run(tests, _PATIENCE_S + _TIMES_LONGER * seconds, ["-x"])
        except subprocess.TimeoutExpired:
            return End.HUNG, ""
        if code == _NONE:
            raise RuntimeError(f"pytest knows none of {tests}")
        return (End.SURVIVED, "") if code == _PASSED else (End.FOUND, (failed or ["as it was imported"])[0])

    def _run(
        self, tests: Sequence[str], timeout_s: float | None, options: Sequence[str]
    ) -> tuple[int, list[str]]:
        named, failed = self.root.parent / "tests.json", self.root.parent / "failed.txt"
        named.write_text(json.dumps(tests))
        failed.write_text("")
        files = dict.fromkeys(map(file_of, tests))
        code = self._pytest(
            ["-p", "tests.bench.mutation.chosen", *options, *files],
            {NAMED: str(named), FAILED: str(failed)},
            timeout_s,
        )
        return code, failed.read_text().splitlines()

    def _pytest(self, words: Sequence[str], environment: dict[str, str], timeout_s: float | None) -> int:
        start = [sys.executable, "-m", "pytest", "-n0", "-q", "--tb=no", "-p", "no:cacheprovider"]
        with subprocess.Popen(
            [*start, "-p", "tests.bench.mutation.drawing", *words],
            cwd=self.root,
            env=os.environ | environment | {"PYTHONPATH": str(self.root)},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        ) as pytest:
            try:
                return pytest.wait(timeout_s)
            finally:
                if pytest.returncode is None:
                    os.killpg(pytest.pid, signal.SIGKILL)


@contextmanager
def copied(root: Path, scratch: Path) -> Iterator[Copy]:
    """Copy the project into a folder of its own, and remove it at the end."""
    scratch.mkdir()
    shutil.copytree(root, scratch / "copy", ignore=_LEFT_OUT)
    try:
        yield Copy(scratch / "copy")
    finally:
        shutil.rmtree(scratch, ignore_errors=True)


def _batches(tests: Sequence[str], seen: Seen) -> tuple[Sequence[str], Sequence[str]]:
    until = list(accumulate(seen.seconds[one] for one in tests))
    quick, most = (sum(1 for seconds in until if seconds <= longest) or 1 for longest in (_FIRST_S, _MOST_S))
    return tests[:quick], tests[quick:most]


def _write(path: Path, source: bytes) -> None:
    path.write_bytes(source)
    Path(cache_from_source(str(path))).unlink(missing_ok=True)
