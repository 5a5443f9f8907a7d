"""Runs a writer under gevent, as the server does: python -m tests.support.greenlets URL.

Prints one JSON object of what happened.
"""

from gevent import monkey

monkey.patch_all()

# ruff: noqa: E402 - the patching must come before all other imports
import json
import sys
import threading
from collections.abc import Callable

import gevent
from gevent.monkey import get_original
from sqlalchemy import NullPool, create_engine, make_url, text

from monreq.domain.commands import OpenShow, RemoveMix
from monreq.domain.refusals import Refusal
from monreq.services.shows import Shows
from monreq.storage.open import open_storage
from monreq.storage.writers import ClosableWriter
from tests.support.submitting import submit

SLOW_S = 0.5
SHOW = "show1"


class BrokenError(Exception):
    """What a job of this script raises."""


def main() -> None:
    url = sys.argv[1]
    storage = open_storage(url, "gevent", may_write=True)
    shows = Shows(storage.log, storage.writer, lambda: 0, lambda _: None)
    shows.open(SHOW, OpenShow("Evening"))
    told = {
        "others_went_on": _others_go_on(storage.writer, _slow_job(url)),
        "broken": _broken(storage.writer),
        "refused": _refused(shows),
        "revisions": _submitted_by_greenlets(shows),
    }
    storage.close()
    sys.stdout.write(json.dumps(told))


def _slow_job(url: str) -> Callable[[], None]:
    if make_url(url).get_backend_name() == "sqlite":
        # The native one, which is what a slow disk is to the others.
        return lambda: get_original("time", "sleep")(SLOW_S)

    def job() -> None:
        with create_engine(url, poolclass=NullPool).connect() as connection:
            connection.execute(text("SELECT pg_sleep(:slow)"), {"slow": SLOW_S})

    return job


def _others_go_on(writer: ClosableWriter, slow_job: Callable[[], None]) -> bool:
    """Tell whether another greenlet took ten steps before the slow job was over."""
    steps_when_over: list[int] = []
    steps = 0

    def slow() -> None:
        writer.run(slow_job)
        steps_when_over.append(steps)

    running = gevent.spawn(slow)
    while not running.dead:
        steps += 1
        gevent.sleep(0.001)
    return steps_when_over[0] >= 10


def _broken(writer: ClosableWriter) -> list[str]:
    def job() -> None:
        raise BrokenError("as it was", threading.current_thread().name)

    try:
        writer.run(job)
    except BrokenError as error:
        return [type(error).__name__, error.args[0]]
    return []


def _refused(shows: Shows) -> list[str]:
    codes = []
    for show_id in (SHOW, "nowhere"):
        try:
            shows.submit(show_id, RemoveMix("front"))
        except Refusal as refusal:
            codes.append(refusal.code)
    return codes


def _submitted_by_greenlets(shows: Shows) -> list[int]:
    greenlets = [gevent.spawn(submit, shows, SHOW, f"greenlet-{number}") for number in range(50)]
    return sorted(greenlet.get().revision for greenlet in greenlets)


if __name__ == "__main__":
    main()
