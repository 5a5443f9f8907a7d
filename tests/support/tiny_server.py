"""A process that serves one page and one live event the way monreq serves; for tests.

Arguments: the async mode. Prints "ready PORT" once it listens and "stopped" when it has stopped.
"""
# ruff: noqa: E402, T201 - the runtime is made ready before other imports; the test reads the output

import sys
from typing import get_args

from monreq.cli import prepare_runtime
from monreq.config import AsyncMode

(MODE,) = (mode for mode in get_args(AsyncMode) if mode == sys.argv[1])
prepare_runtime(MODE)

import socket
import time

from flask import Flask, request
from flask_socketio import SocketIO

from monreq.cli.log import set_up_log
from monreq.cli.server import ServerError, listen, run_server
from monreq.web.host_guard import HostGuard, SitePolicy
from monreq.web.known_hosts import KnownHosts

set_up_log(sys.stderr, level=20)
app = Flask(__name__)
hosts = KnownHosts(["stage.test"], lambda: ["192.168.7.20", "fd00::20"], time.monotonic)
policy = SitePolicy(hosts)
socketio = SocketIO(
    app,
    async_mode=MODE,
    async_handlers=False,
    cors_allowed_origins=policy.origin_allowed,  # type: ignore[arg-type]  # may be a function
)
app.wsgi_app = HostGuard(app.wsgi_app, policy)  # type: ignore[method-assign]  # Flask's own way


@app.route("/", methods=["GET", "POST"])
def page() -> dict[str, str]:
    return {"secret": "kick drum", "forwarded": request.headers.get("X-Forwarded-Host", "")}


@app.get("/j/<token>")
def fail(token: str) -> str:
    raise ValueError(token)


@app.get("/slow")
def slow() -> str:
    print("slow", flush=True)
    time.sleep(1)
    return "finished"


@app.get("/delay")
def delay() -> dict[str, bool]:
    """Whether the connection of this request holds small packets back."""
    environ = request.environ
    connection = environ.get("werkzeug.socket") or environ["wsgi.input"].rfile.raw._sock
    return {"delay": connection.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY) == 0}


@socketio.on("ask")
def ask(text: str) -> str:
    return f"heard {text}"


def main() -> None:
    try:
        listener = listen("127.0.0.1", int(sys.argv[2]))
    except ServerError as error:
        sys.exit(f"monreq: {error}")
    port = listener.getsockname()[1]
    run_server(
        app,
        socketio,
        listener,
        on_ready=lambda: print(f"ready {port}", flush=True),
        on_stop=lambda: print("stopped", flush=True),
    )


main()
