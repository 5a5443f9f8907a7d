"""Several threads at once, none of them forgotten."""

import threading
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

Result = TypeVar("Result")

PATIENCE_S = 30.0
"""How long a test waits before it gives up on a thread that hangs; nothing is measured by it."""


def all_at_once(jobs: Iterable[Callable[[], Result]]) -> list[Result | Exception]:
    """Run each job in a thread of its own, started together; returns what each returned or raised."""
    listed = list(jobs)
    start = threading.Barrier(len(listed))

    def run(job: Callable[[], Result]) -> Result | Exception:
        start.wait(PATIENCE_S)
        try:
            return job()
        except Exception as error:  # noqa: BLE001 - the test looks at it
            return error

    with ThreadPoolExecutor(len(listed)) as pool:
        futures = [pool.submit(run, job) for job in listed]
        return [future.result(PATIENCE_S) for future in futures]


def wait_until(holds: Callable[[], bool]) -> None:
    """Wait until something holds that another thread brings about."""
    pause = threading.Event()
    for _ in range(round(PATIENCE_S / 0.005)):
        if holds():
            return
        pause.wait(0.005)
    raise TimeoutError
