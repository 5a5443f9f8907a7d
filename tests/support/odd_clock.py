"""monreq, but for one thing: its clock stands off by as many seconds as the file MONREQ_DATA_DIR/off-by says, if there is one.

Stands before the command of a process: python -m tests.support.odd_clock python -m monreq serve ...
"""
# ruff: noqa: E402 - the runtime is made ready before other imports

import sys
from pathlib import Path

from monreq.cli import prepare_runtime
from monreq.config import load_async_mode

prepare_runtime(load_async_mode())

from monreq import app
from monreq.cli.commands import run

right_ms = app.now_ms


def run_by_an_odd_clock() -> None:
    """Run the rest of the command line."""
    sys.argv = sys.argv[sys.argv.index("monreq") :]
    off_by = Path(sys.argv[sys.argv.index("--data") + 1]).with_name("off-by")

    def now_ms() -> int:
        return right_ms() + 1000 * (int(off_by.read_text("ascii")) if off_by.exists() else 0)

    setattr(app, "now_ms", now_ms)  # noqa: B010 - the program has no such door, and shall have none
    sys.exit(run())


if __name__ == "__main__":
    run_by_an_odd_clock()
