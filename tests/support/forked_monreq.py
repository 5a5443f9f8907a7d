"""Keeps monreq imported in one process, and forks off it each monreq that a test starts: the imports take seconds."""

import atexit
import json
import math
import os
import signal
import subprocess
import sys
import traceback
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import IO, Any, NoReturn

from tests.support.leaping import LeapingClock
from tests.support.serving import ROOT

_FORGOTTEN = ("MONREQ_", "FLASK_")


class Forked:
    """A monreq that was forked, with its standard output.

    Attributes:
        output: What it prints, until it ends.
    """

    def __init__(
        self, words: Sequence[str], output: Path, errors: Path, environ: Mapping[str, str], clock: Path
    ) -> None:
        os.mkfifo(output)
        order = {"output": str(output), "errors": str(errors), "clock": str(clock), "environ": dict(environ)}
        self.pid = int(_nursery().say(fork=list(words), **order))
        self.output: IO[str] = output.open()
        output.unlink()

    def kill(self) -> None:
        """Take it away as a power cut would, and wait until it is gone."""
        os.kill(self.pid, signal.SIGKILL)
        _nursery().say(bury=self.pid)
        self.output.close()


class _Nursery:
    """The process that has monreq imported."""

    def __init__(self) -> None:
        environ = {name: text for name, text in os.environ.items() if not name.startswith(_FORGOTTEN)}
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.support.forked_monreq"],
            cwd=ROOT,
            env=environ,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        atexit.register(self._close)

    def say(self, **order: object) -> str:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(json.dumps(order) + "\n")
        self._process.stdin.flush()
        return self._process.stdout.readline()

    def _close(self) -> None:
        self._process.communicate()


@cache
def _nursery() -> _Nursery:
    return _Nursery()


def _keep() -> None:
    """Fork and bury as told by lines, until there are no more."""
    for line in sys.stdin:
        order = json.loads(line)
        done = _fork(order) if "fork" in order else os.waitpid(order["bury"], 0)[0]
        print(done, flush=True)  # noqa: T201 - how it answers


def _fork(order: Mapping[str, Any]) -> int:
    from gevent.monkey import get_original  # noqa: PLC0415 - monreq may run without it

    # The plain fork: gevent's own minds children by a loop, which this process does not have.
    pid: int = get_original("os", "fork")()
    return pid or _be_monreq(order)


def _be_monreq(order: Mapping[str, Any]) -> NoReturn:
    for number, stream in enumerate(
        (
            os.open(os.devnull, os.O_RDONLY),
            os.open(order["output"], os.O_WRONLY),
            os.open(order["errors"], os.O_WRONLY | os.O_CREAT | os.O_APPEND),
        )
    ):
        os.dup2(stream, number)
    os.environ.update(order["environ"])
    import monreq.app  # noqa: PLC0415 - was imported before the fork, after the patching
    from monreq.services import storage_watch  # noqa: PLC0415 - was imported before the fork, after the patching

    vars(monreq.app).update(time=LeapingClock(Path(order["clock"])))
    storage_watch.SLOW_S = math.inf  # type: ignore[misc]  # how long the disk of this machine takes is told of no page
    sys.argv[1:] = order["fork"]
    from monreq.cli.commands import run  # noqa: PLC0415 - was imported before the fork, after the patching

    code = 1
    try:
        code = run()
    except BaseException:  # noqa: BLE001 - whatever it is, it ends here and is told
        traceback.print_exc()
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(code)


def _import() -> None:
    from monreq.cli import prepare_runtime  # noqa: PLC0415

    prepare_runtime("gevent")
    import monreq.cli.commands  # noqa: F401, PLC0415


if __name__ == "__main__":
    _import()
    _keep()
