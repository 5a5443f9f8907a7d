"""A process that serves the small live app the way monreq is served; for tests.

Arguments: the async mode and the port. Prints "ready PORT" once it listens. POST /ask/MIX, /replace/SUBJECT, /shout/TIMES, and
/look/TIMES, which lets its doorman look: only then, so that a client that a busy machine holds up is not taken for one that waits.
"""
# ruff: noqa: E402, T201 - the runtime is made ready before other imports; the test reads the output

import sys
from typing import get_args

from monreq.cli import prepare_runtime
from monreq.config import AsyncMode

(MODE,) = (mode for mode in get_args(AsyncMode) if mode == sys.argv[1])
prepare_runtime(MODE)

import time

from monreq.cli.log import set_up_log
from monreq.cli.server import listen, run_server
from monreq.domain import commands as c
from monreq.live.capacity import Doorman
from monreq.live.wire import EndsQuietly
from monreq.web.host_guard import HostGuard, SitePolicy
from monreq.web.known_hosts import KnownHosts
from tests.support.live import LiveHouse, put_admissions

set_up_log(sys.stderr, level=20)
policy = SitePolicy(KnownHosts([], lambda: [], time.monotonic))
house = LiveHouse(MODE, cors_allowed_origins=policy.origin_allowed, ping_interval=4, ping_timeout=4)
put_admissions(house)
doorman = Doorman(EndsQuietly(house.app.wsgi_app), house.socketio, lambda _: False)
house.app.wsgi_app = HostGuard(doorman, policy)  # type: ignore[method-assign]  # Flask's own way


@house.app.post("/ask/<mix>")
def ask(mix: str) -> dict[str, int]:
    return {"revision": house.ask(mix, client_id=f"id-of-{mix}")}


@house.app.post("/replace/<subject>")
def replace(subject: str) -> dict[str, int]:
    return {"revision": house.do(c.ReplaceCode(None if subject == "desk" else subject))}


@house.app.post("/shout/<int:times>")
def shout(times: int) -> dict[str, int]:
    for _ in range(times):
        house.socketio.emit("shout", "loud" * 16384, namespace="/phone")
        house.socketio.sleep(0)
    return {"times": times}


@house.app.post("/look/<int:times>")
def look(times: int) -> dict[str, int]:
    for _ in range(times):
        doorman.look()
    return {"times": times}


@house.socketio.on("fail", namespace="/")
def fail() -> None:
    raise ValueError("made to fail")


def main() -> None:
    listener = listen("127.0.0.1", int(sys.argv[2]))
    port = listener.getsockname()[1]
    house.announcer.start()
    run_server(
        house.app,
        house.socketio,
        listener,
        on_ready=lambda: print(f"ready {port}", flush=True),
        on_stop=house.announcer.stop,
    )
    print("stopped", flush=True)


main()
