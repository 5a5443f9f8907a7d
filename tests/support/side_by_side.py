"""How tests run side by side: by how many workers, what goes together, in which order, and how a failure is played again."""

import gc
import os
import random
import sys
from collections import defaultdict
from collections.abc import Generator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

import pytest
from xdist.scheduler import LoadFileScheduling

if TYPE_CHECKING:
    from xdist.remote import Producer
    from xdist.workermanage import WorkerController

# chosen: two for each core, for half of the time of the tests is spent waiting; a Redis has numbers for sixteen
WORKERS: Final = min(12, 2 * (os.cpu_count() or 1))
FEW: Final = 30  # chosen: so many test files are done before workers would have begun
TOGETHER: Final = ("tests/deploy/",)  # one festival serves all of them
LONGEST: Final = (
    "tests/faults/test_history.py",
    "tests/browser/test_accessible.py",
    "tests/live/test_capacity.py",
    "tests/faults/test_surroundings.py",
    "tests/deploy/",
    "tests/web/test_api_against_its_description.py",
    "tests/browser/test_hostile_words.py",
    "tests/browser/test_journey.py",
    "tests/live/test_sockets.py",
    "tests/cli/test_passphrase.py",
    "tests/printing/test_cards.py",
)
"""What begins first, so that nobody is left alone with it at the end."""

# Else every process that a test starts would compile monreq again.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
# Else jsonschema compiles 39 grammars, for two seconds in every process, for formats that nothing here has.
sys.modules["rfc3987_syntax"] = None  # type: ignore[assignment]  # what is None cannot be imported

_DONE: Final[list[str]] = []  # the files of which this process ran a test, in order


def unit(nodeid: str) -> str:
    """Return what of the tests has to stay together on one worker: a file, or a folder."""
    return next((folder for folder in TOGETHER if nodeid.startswith(folder)), nodeid.partition("::")[0])


def mixed(units: Sequence[str]) -> list[str]:
    """Put units in the order in which they begin: the longest, then all folders mixed evenly.

    So whoever waits and whoever reckons are at work at the same time until the end.
    """
    folders = defaultdict(list)
    for one in units:
        folders[one.rpartition("/")[0]].append(one)
    share = {
        one: (number + 0.5) / len(inside) for inside in folders.values() for number, one in enumerate(inside)
    }
    longest = {one: number - len(LONGEST) for number, one in enumerate(LONGEST)}
    return sorted(units, key=lambda one: longest.get(one, share[one]))


class _Units(LoadFileScheduling):
    """Hands out whole units, in the order in which they were collected."""

    def _split_scope(self, nodeid: str) -> str:
        return unit(nodeid)


def pytest_xdist_make_scheduler(config: pytest.Config, log: "Producer") -> _Units:
    config.option.loadscopereorder = False
    return _Units(config, log)


@pytest.hookimpl(tryfirst=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Let a few files run in this process, which spares the start of others."""
    paths = [config.rootpath / word.partition("::")[0] for word in config.args]
    return WORKERS if sum(map(_test_files, paths)) > FEW else 0


def _test_files(path: Path) -> int:
    return sum(1 for _ in path.rglob("test_*.py")) if path.is_dir() else 1


@pytest.hookimpl(tryfirst=True)
def pytest_configure(config: pytest.Config) -> None:
    """Draw the seed of everything that Hypothesis draws, so that it can be told."""
    drawn = getattr(config, "workerinput", {}).get("seed") or str(random.SystemRandom().randrange(1 << 32))
    config.option.hypothesis_seed = config.option.hypothesis_seed or drawn


def pytest_configure_node(node: "WorkerController") -> None:
    """Let a worker draw by the same seed."""
    node.workerinput["seed"] = node.config.option.hypothesis_seed


def pytest_report_header(config: pytest.Config) -> str:
    workers = config.option.numprocesses or 0
    how = f"{workers} workers, each a file at a time" if workers else "one process"
    return f"monreq: {how}, order by tests/support/side_by_side.py, --hypothesis-seed={config.option.hypothesis_seed}"


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, object, object]:
    """Let what is collected, which lasts, cost no search for garbage, now or during the tests."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.enable()


def pytest_unconfigure() -> None:
    """Let go of it: what libraries leave to be found at the end would else be told as leaks."""
    gc.unfreeze()


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if not hasattr(config, "workerinput"):
        return
    order = mixed(list(dict.fromkeys(unit(item.nodeid) for item in items)))
    place = {one: number for number, one in enumerate(order)}
    items.sort(key=lambda item: place[unit(item.nodeid)])


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Say behind a failure how it is played again."""
    report = yield
    file = item.nodeid.partition("::")[0]
    if file not in _DONE:
        _DONE.append(file)
    if report.failed:
        report.sections.append(("to play it again", _again(item)))
    return report


def _again(item: pytest.Item) -> str:
    start = f"{Path(sys.prefix).name}/bin/pytest -n 0 --hypothesis-seed={item.config.option.hypothesis_seed}"
    return f"{start} '{item.nodeid}'\nwith all that its process had run: {start} {' '.join(_DONE)}"
