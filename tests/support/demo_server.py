"""A demo in a process of its own, and the address under which a browser meets it as a phone on the network would."""

import os
import re
import subprocess
import sys
from pathlib import Path
from typing import IO, Final

HOST: Final = "stage.test"
"""Mapped to this machine by the browser. It is no secure context, as no address of a local network is."""

_LINK = re.compile(r"(?:desk|phone (?P<name>.+?)): http://[^/]+?:(?P<port>\d+)(?P<path>/j/\S+)")
_PAGES = 7  # the desk and the demo's six mixes
_ROOT = Path(__file__).parents[2]


class DemoServer:
    """Can be killed and started again in the same place.

    Attributes:
        links: The paths that open the desk (the empty name) and the mixes, by name.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._process: subprocess.Popen[str] | None = None
        self.port = 0
        self.links: dict[str, str] = {}

    def start(self) -> None:
        """Start, and wait until it is ready."""
        self._process = subprocess.Popen(
            [
                *(sys.executable, "-m", "monreq.cli", "demo", "--still", "--no-browser"),
                *("--port", str(self.port), "--data", str(self._folder)),
            ],
            cwd=_ROOT,
            env={**os.environ, "MONREQ_TRUSTED_HOSTS": HOST},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        output: IO[str] | None = self._process.stdout
        assert output is not None
        self.links.clear()
        while len(self.links) < _PAGES:
            link = _LINK.match(output.readline())
            assert link is not None, "the demo did not say where it is"
            self.port, self.links[link["name"] or ""] = int(link["port"]), link["path"]

    def kill(self) -> None:
        """End it as a power cut would."""
        if self._process is not None:
            self._process.kill()
            self._process.communicate()
            self._process = None

    def url(self, path: str) -> str:
        """Return the address of a path."""
        return f"http://{HOST}:{self.port}{path}"
