"""The command monreq as a process of its own: run to its end, or left serving."""

import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import requests

ROOT = Path(__file__).parents[2]
PATIENCE_S = 60.0
"""How long a test waits before it gives up on a process that hangs; nothing is measured by it."""

COMMAND = (sys.executable, "-W", "error", "-m", "monreq")


@dataclass(frozen=True)
class Ended:
    """What a command came to."""

    output: str
    errors: str
    code: int


def monreq(*words: str | Path, **environ: str) -> Ended:
    """Run a command to its end."""
    done = subprocess.run(
        [*COMMAND, *map(str, words)],
        cwd=ROOT,
        env={**os.environ, **environ},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
        timeout=PATIENCE_S,
    )
    return Ended(done.stdout, done.stderr, done.returncode)


@dataclass(frozen=True)
class Served:
    """A monreq that serves."""

    process: subprocess.Popen[str]
    folder: Path
    desk: str
    phones: dict[str, str]

    @property
    def url(self) -> str:
        return self.desk.partition("/j/")[0]

    @property
    def desk_token(self) -> str:
        return token_in(self.desk)

    def api(self, path: str, token: str, body: object = None) -> requests.Response:
        """Call the JSON interface: GET, or POST if there is a body."""
        return requests.request(
            "GET" if body is None else "POST",
            f"{self.url}/api/v1{path}",
            headers={"Authorization": f"Bearer {token}"},
            json=body,
            timeout=PATIENCE_S,
        )

    def read(self, path: str, token: str | None = None) -> Any:
        """Return what the JSON interface gives, by default to the desk."""
        answer = self.api(path, token or self.desk_token)
        assert answer.status_code == 200, answer.text
        return answer.json()

    def stop(self, number: int = signal.SIGTERM) -> Ended:
        """Send a signal and wait for the end."""
        self.process.send_signal(number)
        output, errors = self.process.communicate(timeout=PATIENCE_S)
        return Ended(output, errors, self.process.returncode)


def token_in(link: str) -> str:
    """Return the token that a printed link carries."""
    return link.rpartition("/")[2]


@contextmanager
def serving(
    command: str, folder: Path, mixes: int, *words: str, through: Sequence[str] = (), **environ: str
) -> Iterator[Served]:
    """Have a command serve on a free port of this machine until the block ends.

    Args:
        command: `serve` or `demo`.
        folder: Its data folder.
        mixes: How many lines it prints behind the desk's.
        words: What else is said to it.
        through: What starts it, if not this process itself.
        environ: Set beside what is set here.
    """
    arguments = [command, "--data", str(folder), "--host", "127.0.0.1", "--port", "0", "--no-browser", *words]
    with subprocess.Popen(
        [*through, *COMMAND, *arguments],
        cwd=ROOT,
        env={**os.environ, **environ},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
    ) as process:
        hung = threading.Timer(PATIENCE_S, process.kill)
        hung.start()
        try:
            desk, phones = _links(process, mixes)
            hung.cancel()
            yield Served(process, folder, desk, phones)
        finally:
            hung.cancel()
            process.kill()


def _links(process: subprocess.Popen[str], mixes: int) -> tuple[str, dict[str, str]]:
    assert process.stdout is not None
    lines = [process.stdout.readline().rstrip("\n") for _ in range(mixes + 1)]
    if not all(lines):
        _, errors = process.communicate()
        raise AssertionError(f"it printed {lines} and {errors}")
    label, _, desk = lines[0].partition(": ")
    assert label == "desk"
    phones = {}
    for line in lines[1:]:
        name, _, url = line.rpartition(": ")
        kind, _, mix = name.partition(" ")
        assert kind == "phone"
        phones[mix] = url
    return desk, phones
