"""What tests of the commands start from: a demo that is served, and commands run in this process."""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from monreq.cli.commands import run
from tests.support.monreq_process import Ended, Served, serving
from tests.support.started_commands import MIXES, Command


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A still demo that several tests look at; none changes it."""
    folder = tmp_path_factory.mktemp("demo")
    with serving("demo", folder, len(MIXES), "--still") as served:
        yield served


@pytest.fixture
def here(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    """Runs a command in this process, which spares the start of one."""

    def run_here(*words: str | Path, **environ: str) -> Ended:
        for name, value in {**environ, "MONREQ_ASYNC_MODE": "threading"}.items():
            monkeypatch.setenv(name, value)
        monkeypatch.setattr(sys, "argv", ["monreq", *map(str, words)])
        code = run()
        return Ended(*capsys.readouterr(), code)

    return run_here
