"""Which tests run which lines, kept in .cache/mutants until monreq or what tests share changes."""

import hashlib
import json
import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Final

from tests.bench.mutation.mutator import Mutant

FOLDERS: Final = (
    "domain",
    "services",
    "external",
    "books",
    "storage",
    "web",
    "live",
    "printing",
    "evenings",
)
"""The folders of tests that are asked; not those that need a browser, or that kill what they started."""
_DECIDES: Final = (
    "monreq/**/*",
    "templates/**/*",
    "migrations/**/*",
    "tests/support/**/*",
    "tests/**/conftest.py",
)


@dataclass
class Seen:
    """What all tests ran, of those that pass."""

    root: Path
    seconds: dict[str, float] = field(default_factory=dict)
    """How long each takes. [s]"""
    _by_line: dict[tuple[str, int], set[str]] = field(default_factory=lambda: defaultdict(set))

    def add(self, told: Path) -> None:
        """Take in what was written of a file of tests."""
        known = json.loads(told.read_text())
        passed = [nodeid for nodeid, _, is_passed in known["tests"] if is_passed]
        self.seconds |= {nodeid: seconds for nodeid, seconds, is_passed in known["tests"] if is_passed}
        names = [nodeid if is_passed else None for nodeid, _, is_passed in known["tests"]]
        for path, lines in known["lines"].items():
            for line, numbers in lines.items():
                here = self._by_line[path, int(line)]
                for number in numbers:
                    here.update(passed if number < 0 else filter(None, [names[number]]))

    def running(self, mutant: Mutant) -> list[str]:
        """Return the tests that run what a mutant changes: of its module, its package, then all, the quickest files first."""
        own, near = f"/test_{Path(mutant.path).stem}", f"tests/{mutant.path.split('/')[1]}/"
        tests = self._lines(mutant.path, range(mutant.first_line, mutant.last_line + 1))
        if mutant.names or not tests:
            tests |= self._naming(mutant)
        if mutant.names and not tests:
            tests |= self._lines(mutant.path, range(1, 1 + len(self._sources.get(mutant.path, ()))))
        if not tests:  # what runs in a process of its own is not seen
            tests |= {one for one in self.seconds if one.startswith(near)}
        files: dict[str, float] = defaultdict(float)
        for test in tests:
            files[file_of(test)] += self.seconds[test]
        return sorted(
            tests,
            key=lambda one: (
                own not in one,
                not one.startswith(near),
                files[file_of(one)],
                file_of(one),
                self.seconds[one],
                one,
            ),
        )

    def _lines(self, path: str, lines: Iterable[int]) -> set[str]:
        return set().union(*(self._by_line.get((path, line), ()) for line in lines))

    def _naming(self, mutant: Mutant) -> set[str]:
        """Return the tests that run a line in which the name of a thing stands that is made once for all."""
        names = mutant.names or (mutant.function.rpartition(".")[2],)
        words = (re.escape(name) if name.startswith(".") else rf"\b{re.escape(name)}" for name in names)
        pattern = re.compile(rf"(?:{'|'.join(words)})\b")
        tests: set[str] = set()
        for path, lines in self._sources.items():
            tests |= self._lines(
                path, (number for number, line in enumerate(lines, 1) if pattern.search(line))
            )
        return tests

    @cached_property
    def _sources(self) -> dict[str, Sequence[str]]:
        paths = (self.root / "monreq").rglob("*.py")
        return {one.relative_to(self.root).as_posix(): one.read_text().splitlines() for one in paths}


def file_of(nodeid: str) -> str:
    """Return the file of a test."""
    return nodeid.partition("::")[0]


def files_of_tests(root: Path) -> list[str]:
    """Return the files of tests that are asked."""
    return [
        path.relative_to(root).as_posix()
        for folder in FOLDERS
        for path in sorted((root / "tests" / folder).glob("test_*.py"))
    ]


def kept_at(into: Path, root: Path, file: str) -> Path:
    """Return where is kept what a file of tests ran, as it is now."""
    state = hashlib.sha256((root / file).read_bytes()).hexdigest()[:12]
    return into / f"{file.replace('/', '+')}.{state}.json"


def shared_by_all(root: Path) -> str:
    """Return a word for the state of all that decides what tests run, but for the tests themselves."""
    told = hashlib.sha256()
    for pattern in _DECIDES:
        for path in sorted(root.glob(pattern)):
            if path.is_file() and path.suffix in {".py", ".html", ".txt", ".svg", ".po", ".css"}:
                told.update(path.relative_to(root).as_posix().encode() + b"\0" + path.read_bytes())
    return told.hexdigest()[:12]
