"""Runs the tiny server in a process of its own and talks to it over real sockets."""

import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO

SCRIPT = Path(__file__).with_name("tiny_server.py")
ROOT = SCRIPT.parents[2]
PATIENCE_S = 30.0
"""How long a test waits before it gives up on a server that hangs; nothing is measured by it."""


@dataclass(frozen=True)
class Serving:
    """A running server."""

    process: subprocess.Popen[str]
    port: int

    def connect(self) -> socket.socket:
        return socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE_S)

    def exchange(self, request: bytes) -> bytes:
        """Send bytes and read until the server closes."""
        with self.connect() as connection:
            connection.sendall(request)
            return b"".join(iter(lambda: connection.recv(65536), b""))

    def ask(self, method: str, path: str, *headers: str) -> tuple[int, str, str]:
        """Send one request exactly as given; answers with status, headers and body."""
        lines = [f"{method} {path} HTTP/1.1", *headers, "Content-Length: 0", "Connection: close"]
        answer = self.exchange("\r\n".join([*lines, "", ""]).encode("latin-1")).decode()
        head, _, body = answer.partition("\r\n\r\n")
        return int(head.split()[1]), head, body

    def line(self) -> str:
        """The next line that the server prints."""
        output: IO[str] | None = self.process.stdout
        assert output is not None
        return output.readline().strip()

    def stop(self, number: int) -> tuple[str, str, int]:
        """Send a signal; answers with the rest of both outputs and the exit code."""
        self.process.send_signal(number)
        output, errors = self.process.communicate(timeout=PATIENCE_S)
        return output, errors, self.process.returncode


def start(mode: str, port: int = 0, script: Path = SCRIPT) -> subprocess.Popen[str]:
    """Start the tiny server, or another script that says the same."""
    return subprocess.Popen(
        [sys.executable, str(script), mode, str(port)],
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


@contextmanager
def serving(mode: str, script: Path = SCRIPT) -> Iterator[Serving]:
    """A server that listens on a port of its own until the block ends."""
    with start(mode, script=script) as process:
        try:
            server = Serving(process, 0)
            port = int(server.line().removeprefix("ready "))
            yield Serving(process, port)
        finally:
            process.kill()
