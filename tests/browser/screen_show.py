"""A demo's evening with a lively moment on it, for the pictures of docs/screens."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import requests

ROOT = Path(__file__).resolve().parents[2]
PATIENCE_S = 30.0
ADDRESS = "monreq.example:8330"  # RFC 2606: nobody's. A name, for an address that this machine lacks would be told on each page
MIXES = 6


@dataclass(frozen=True)
class Demo:
    """A running demo: where it is, and the token of the desk and of each mix by its name."""

    url: str
    tokens: Mapping[str, str]

    def call(self, who: str, path: str, **body: object) -> Any:
        """Ask the JSON interface for something, as a phone or as the desk."""
        headers = {"Authorization": f"Bearer {self.tokens[who]}"}
        answer = requests.post(f"{self.url}/api/v1/{path}", json=body, headers=headers, timeout=PATIENCE_S)
        answer.raise_for_status()
        return answer.json()

    def ask(self, name: str, mix: str, musician: str, **wish: object) -> str:
        """Ask for something on a phone; returns the request's id."""
        return str(
            self.call(
                name, f"mixes/{mix}/requests", musician=musician, client_id=os.urandom(8).hex(), **wish
            )["request"]
        )

    def decide(self, *requests: str, outcome: str = "done", **how: object) -> None:
        """Answer a row at the desk."""
        self.call("desk", "decisions", requests=requests, outcome=outcome, **how)


@contextmanager
def demo(folder: Path) -> Iterator[Demo]:
    """Run the demo, without simulated phones, on a port that is free."""
    command = [sys.executable, "-m", "monreq.cli", "demo", "--still", "--no-browser"]
    options = ["--host", "127.0.0.1", "--port", "0", "--address", ADDRESS, "--data", str(folder)]
    with subprocess.Popen([*command, *options], cwd=ROOT, stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout is not None
            lines = [process.stdout.readline().strip() for _ in range(1 + MIXES)]
            links = dict(line.removeprefix("phone ").rsplit(": ", 1) for line in lines)
            url = re.sub(r"/j/.*", "", links["desk"])
            yield Demo(url, {name: link.rsplit("/", 1)[1] for name, link in links.items()})
        finally:
            process.terminate()


def before_the_pages_open(show: Demo) -> None:
    """What was answered since the soundcheck."""
    show.decide(show.ask("Lead voice", "lead", "lead", kind="level", source="gvoice", change_db=3), done_db=3)
    show.decide(show.ask("Drums", "drums", "drums", kind="level", source="lead", change_db=-2), done_db=-2)
    show.decide(show.ask("Drums", "drums", "drums", kind="pan", source="accord", change_pan=-0.2))
    show.decide(
        show.ask("Accordion", "accord", "accord", kind="level", source="lead", change_db=3), done_db=3
    )
    voice = show.ask("Bass", "bass", "bass", kind="level", source="lead", change_db=6)
    show.decide(voice, done_db=4, reason="near_feedback")
    trumpet = show.ask("Bass", "bass", "bass", kind="level", source="trumpet", change_db=3)
    show.decide(trumpet, outcome="not_done", reason="after_this_song")


def while_the_song_runs(show: Demo) -> None:
    """What comes in and waits: several asks, and two who disagree."""
    show.ask("Bass", "bass", "bass", kind="level", source="kick", change_db=3)
    show.ask("Bass", "bass", "bass", kind="level", source="kick", change_db=3)
    show.ask("Horns", "horns", "trumpet", kind="level", source="trumpet", change_db=3)
    show.ask("Horns", "horns", "sax", kind="level", source="trumpet", change_db=-3)
    show.ask("Lead voice", "lead", "lead", kind="level", source="lead", change_db=3)


def in_the_gap(show: Demo) -> None:
    """What comes in last: a word on the sound, something set aside, a call."""
    show.ask("Guitar", "guitar", "guitar", kind="sound", source="accord", words="muddy")
    show.ask("Drums", "drums", "drums", kind="level", source="click", change_db=1)
    guitar = show.ask("Drums", "drums", "drums", kind="pan", source="guitar", change_pan=0.2)
    show.decide(guitar, outcome="set_aside")
    show.ask("Accordion", "accord", "accord", kind="call", source=None, call="hurts")
