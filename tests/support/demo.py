"""Runs `monreq demo --still` as a process of its own, with hands for what happens elsewhere than on a page."""

import os
import signal
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import requests

from tests.support.forked_monreq import Forked
from tests.support.leaping import Leaps
from tests.support.serving import PATIENCE_S

NAME = "desk.test"
"""A name of the laptop that is not localhost: browsers trust pages of that name as little as any LAN page."""


class Demo:
    """A demo's evening that is served, can be killed, and served again from the same folder on the same port.

    Attributes:
        folder: Its data.
        links: What it printed: of the desk, and of each mix by its name.
        clock: Its time of day, which leaps when told to.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._process: Forked | None = None
        self.clock = Leaps(folder.with_suffix(".clock"))
        self.port = 0
        self.links: Mapping[str, str] = {}

    def start(self) -> None:
        """Serve until killed."""
        options = ["--host", "127.0.0.1", "--port", str(self.port), "--address", NAME]
        self._process = Forked(
            ["demo", "--still", "--no-browser", *options, "--data", str(self.folder)],
            output=self.folder.with_suffix(".out"),
            errors=self._log,
            environ={"MONREQ_TRUSTED_HOSTS": NAME},
            clock=self.clock.file,
        )
        self.links = dict(self._read_links(self._process))
        self.port = int(self.links["desk"].split(":")[2].partition("/")[0])

    def kill(self) -> None:
        """Take it away as a power cut would."""
        if self._process is not None:
            self._process.kill()
            self._process = None

    def freeze(self, number: int = signal.SIGSTOP) -> None:
        """Stop it as a laptop does whose lid is shut, or let it go on with SIGCONT."""
        assert self._process is not None
        os.kill(self._process.pid, number)

    @property
    def is_running(self) -> bool:
        """Whether it was started and not killed."""
        return self._process is not None

    @property
    def origins(self) -> tuple[str, str]:
        """Where its pages come from: for the laptop itself, and for phones."""
        return f"127.0.0.1:{self.port}", f"{NAME}:{self.port}"

    @property
    def complaints(self) -> str:
        """What it wrote beside the links."""
        return self._log.read_text()

    @property
    def _log(self) -> Path:
        return self.folder.with_suffix(".log")

    def _read_links(self, process: Forked) -> Iterator[tuple[str, str]]:
        for _ in range(7):
            line = process.output.readline().strip()
            assert line, self.complaints
            name, url = line.rsplit(": ", 1)
            yield name.removeprefix("phone "), url

    def ask(self, mix: str, source: str | None, change_db: float, musician: str | None = None) -> str:
        """Ask for a change of level from some other phone; returns the request's id."""
        body = {"kind": "level", "source": source, "change_db": change_db, "musician": musician}
        client_id = f"other-{os.urandom(8).hex()}"
        said = self._api("POST", f"/mixes/{mix}/requests", {"client_id": client_id, **body})
        return str(said["request"])

    def call(self, mix: str, call: str) -> None:
        """Call the desk from some other phone."""
        body = {"client_id": f"other-{os.urandom(8).hex()}", "kind": "call", "source": None, "musician": None}
        self._api("POST", f"/mixes/{mix}/requests", {**body, "call": call})

    def answer(self, *request_ids: str, outcome: str = "done", **how: object) -> None:
        """Answer a row from some other desk."""
        self._api("POST", "/decisions", {"requests": request_ids, "outcome": outcome, **how})

    def withdraw(self, request_id: str) -> None:
        """Take a request back from some other page."""
        self._api("DELETE", f"/requests/{request_id}")

    def clear(self) -> None:
        """Take back all that waits."""
        for row in self.rows():
            for request_id in row["requests"]:
                self.withdraw(request_id)

    def rows(self) -> list[dict[str, Any]]:
        """Return the queue as the JSON interface tells it."""
        rows: list[dict[str, Any]] = self._api("GET", "/queue")["rows"]
        return rows

    def row(self, mix: str, source: str | None, kind: str = "level") -> dict[str, Any]:
        """Return one row of the queue."""
        wanted = (mix, source, kind)
        (found,) = [row for row in self.rows() if (row["mix"], row["source"], row["kind"]) == wanted]
        return found

    def level(self, mix: str, source: str) -> float | None:
        """Return where a send stands; None if it is off. [dB]."""
        (send,) = [one for one in self._api("GET", f"/mixes/{mix}")["sends"] if one["source"] == source]
        level: float | None = send["level_db"]
        return level

    def _api(self, method: str, path: str, body: object = None) -> Any:
        token = self.links["desk"].rsplit("/", 1)[1]
        response = requests.request(
            method,
            f"http://127.0.0.1:{self.port}/api/v1{path}",
            json=body,
            headers={"Authorization": f"Bearer {token}"},
            timeout=PATIENCE_S,
        )
        assert response.ok, response.text
        return response.json()


def set_up_demo(folder: Path) -> None:
    """Make a folder in which a demo's evening is set up, to be copied for those that are served."""
    with running_demo(folder):
        pass


@contextmanager
def running_demo(folder: Path) -> Iterator[Demo]:
    """Serve a demo until the block ends, from a fresh folder or one that is set up."""
    demo = Demo(folder)
    try:
        demo.start()
        yield demo
    finally:
        demo.kill()
