"""The two servers that the load bench drives, each started in a folder of its own and ended with its block."""

import os
import sqlite3
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from urllib.request import urlopen

import psutil

from monreq import config
from monreq.app import open_shows
from monreq.domain import commands as c
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind
from monreq.domain.show import Show
from monreq.storage.folder import DataFolder
from monreq.web.access import token_of
from tests.support.serving import ROOT
from tests.support.workers import free_port

CROWDS = tuple(f"crowd{number}" for number in range(10))
"""The mixes of the phones that only listen, no more to each than one code admits: nobody asks for them."""

MIXES = tuple(f"m{number}" for number in range(60))
"""The mixes that are asked for, each of one musician."""

SOURCES = tuple(f"s{number}" for number in range(12))
"""What is in every mix."""

_KEY = bytes(range(32))
_START_S = 30.0
_LOOK_S = 0.01


@dataclass(frozen=True)
class Server:
    """A server that answers.

    Attributes:
        cold_s: From its start as a process to its first page. [s]
        desk: The token of the desk.
        phones: The token of each mix.
        database: The file that it commits to.
    """

    name: str
    url: str
    process: "subprocess.Popen[bytes]"
    cold_s: float
    desk: str
    phones: Mapping[str, str]
    database: Path

    def resident_kb(self) -> float:
        """Return the memory that it holds now. [kB]."""
        return float(psutil.Process(self.process.pid).memory_info().rss) / 1000

    def processor_s(self) -> float:
        """Return how long it has kept the processor busy; hardly touched by what else runs. [s]."""
        times = psutil.Process(self.process.pid).cpu_times()
        return float(times.user + times.system)

    def stored(self) -> Counter[str]:
        """Return how often each client's id was stored."""
        statement = (
            "SELECT client_id FROM requests"
            if self.name == "floor"
            else "SELECT json_extract(body, '$.client_id') FROM events WHERE kind = 'change_asked'"
        )
        with sqlite3.connect(self.database) as database:
            return Counter(client_id for (client_id,) in database.execute(statement))


@contextmanager
def floor(folder: Path) -> Iterator[Server]:
    """Run the bare server; its tokens are the ids of the mixes."""
    port, database = free_port(), folder / "floor.sqlite"
    tokens = {mix: mix for mix in (*MIXES, *CROWDS)}
    url = f"http://127.0.0.1:{port}"
    with _running(["tests.bench.load_floor", str(port), str(database)], url) as (process, cold_s):
        yield Server("floor", url, process, cold_s, "desk", tokens, database)


@contextmanager
def monreq(folder: Path) -> Iterator[Server]:
    """Run `monreq serve` on a show that was prepared beforehand."""
    show, port = _prepare(folder), free_port()
    url, desk = f"http://127.0.0.1:{port}", token_of(_KEY, show, None)
    words = ["serve", "--data", str(folder), "--host", "127.0.0.1", "--port", str(port), "--no-browser"]
    with _running(["monreq", *words], f"{url}/j/{desk}") as (process, cold_s):
        tokens = {mix: token_of(_KEY, show, mix) for mix in show.mixes}
        yield Server("monreq", url, process, cold_s, desk, tokens, folder / "monreq.sqlite")


@contextmanager
def _running(module: list[str], first_page: str) -> Iterator[tuple["subprocess.Popen[bytes]", float]]:
    """Run a module until the block ends; gives the process, and how long it took to its first page [s]."""
    environment = {name: text for name, text in os.environ.items() if not name.startswith("MONREQ_")}
    began_s = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, "-m", *module],
        cwd=ROOT,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
    ) as process:
        try:
            _wait_for(first_page, process, began_s)
            yield process, time.perf_counter() - began_s
        finally:
            process.terminate()
            with suppress(subprocess.TimeoutExpired):
                process.wait(_START_S)
            process.kill()


def _wait_for(page: str, process: "subprocess.Popen[bytes]", began_s: float) -> None:
    while True:
        with suppress(OSError), urlopen(page, timeout=_START_S) as answer:  # noqa: S310 - loopback, our own
            answer.read()
            return
        if process.poll() is not None or time.perf_counter() - began_s > _START_S:
            raise RuntimeError(f"no answer from {page}")
        time.sleep(_LOOK_S)


def _prepare(folder: Path) -> Show:
    """Set a show up, wedges and in-ear pairs in turns, as far as the end of its soundcheck."""
    data = DataFolder(folder)
    data.create()
    data.ensure_key(lambda _: _KEY)
    storage, shows = open_shows(config.Config.from_environment({}, data_dir=folder), may_write=True)
    try:
        shows.open("load", c.OpenShow("Load"))
        for command in _set_up():
            shows.submit("load", command)
        return shows.state("load")
    finally:
        storage.close()


def _set_up() -> Iterator[c.Command]:
    for source in SOURCES:
        yield c.PutSource(Source(source, f"Source {source}", SourceKind.OPEN_MIC))
    for place, mix in enumerate((*MIXES, *CROWDS)):
        output = Output.WEDGE if place % 2 else Output.IN_EAR_PAIR
        yield c.PutMusician(Musician(f"p{place}", f"Player {place}"))
        yield c.PutMix(Mix(mix, f"Mix {place}", output, (f"p{place}",)))
        for source in SOURCES:
            yield c.PutSend(mix, source, Setting(-200))
    yield c.MarkSoundcheck()
