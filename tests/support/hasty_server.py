"""A process that serves a tiny app and gives every request a second and a half; for tests.

Argument: the async mode. Prints "ready PORT". GET / answers shortly, GET /long with more than a socket holds; POST / reads.
"""
# ruff: noqa: E402, T201 - the runtime is made ready before other imports; the test reads the output

import sys
import threading
from typing import get_args

from monreq.cli import prepare_runtime
from monreq.config import AsyncMode

(MODE,) = (mode for mode in get_args(AsyncMode) if mode == sys.argv[1])
prepare_runtime(MODE)

from flask import Flask, request

from monreq.cli.connections import Connections
from monreq.cli.runtimes import Running, runtime
from monreq.cli.server import listen

EXCHANGE_S = 1.5
app = Flask(__name__)


@app.get("/")
def short() -> str:
    return "here"


@app.get("/long")
def long() -> str:
    return "long " * 8_000_000


@app.post("/")
def read() -> str:
    return str(len(request.get_data()))


def main() -> None:
    listener = listen("127.0.0.1", 0)
    port = listener.getsockname()[1]
    open_ones = Connections(exchange_s=EXCHANGE_S)
    runtime(MODE, listener, app, Running(), open_ones).start()
    open_ones.watch()
    print(f"ready {port}", flush=True)
    threading.Event().wait()


main()
