"""How the command begins: the runtime first, then everything else."""

import os
import subprocess
import sys

import pytest

SHOW_PATCHED = """
import sys
from monreq.cli import prepare_runtime
before = sorted(name for name in ("flask", "socketio", "sqlalchemy") if name in sys.modules)
prepare_runtime(sys.argv[1])
import socket
print(before, socket.socket.__module__, sys.modules.get("geventwebsocket", "free"))
"""


def run(*arguments: str, **environ: str) -> tuple[str, str, int]:
    done = subprocess.run(
        [sys.executable, *arguments],
        env={**os.environ, **environ},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.stdout, done.stderr, done.returncode


@pytest.mark.parametrize(
    ("mode", "line"),
    [("gevent", "[] gevent._socket3 None\n"), ("threading", "[] socket free\n")],
)
def test_prepare_runtime_comes_before_the_frameworks(mode: str, line: str) -> None:
    output = run("-W", "error", "-c", SHOW_PATCHED, mode)

    assert output == (line, "", 0)


def test_main_refuses_an_unknown_mode_in_one_line() -> None:
    output = run("-m", "monreq.cli", MONREQ_ASYNC_MODE="x")

    assert output == (
        "",
        "monreq: MONREQ_ASYNC_MODE must be gevent or threading, not 'x'.\n",
        1,
    )
