"""Killed at any moment: what was acknowledged is on disk, once."""

import random
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from monreq.domain.fold import fold
from monreq.domain.show import Show
from monreq.services.shows import Shows
from monreq.storage.open import Storage, open_storage
from tests.support.databases import sqlite_url
from tests.support.submitting import open_show, submit

pytestmark = pytest.mark.faults

ROOT = Path(__file__).parents[2]
SHOW = "show1"
ROUNDS = 12
SEED = 20261122


def test_kill_while_writing_loses_and_doubles_nothing(tmp_path: Path) -> None:
    chance = random.Random(SEED)
    url = sqlite_url(tmp_path)
    storage = open_storage(url, "threading", may_write=True)
    open_show(_shows(storage), SHOW)
    storage.close()
    acknowledged: dict[str, int] = {}

    for number in range(ROUNDS):
        told = _write_until_killed(url, f"round{number}", chance.uniform(0.02, 0.25))
        acknowledged.update(told)
        _check(url, acknowledged, told)

    assert len(acknowledged) > 10 * ROUNDS


def _write_until_killed(url: str, name: str, seconds: float) -> dict[str, int]:
    """Let a process write for so long after its first acknowledgement, then kill it."""
    command = [sys.executable, "-m", "tests.support.submitting", url, SHOW, name, "0"]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as writing:
        assert writing.stdout is not None
        first = writing.stdout.readline()
        time.sleep(seconds)
        writing.kill()
        text = first + writing.stdout.read()
    assert writing.returncode != 0
    # A line that the kill cut short was not acknowledged.
    return {client: int(revision) for client, revision in map(str.split, text.split("\n")[:-1])}


def _check(url: str, acknowledged: dict[str, int], latest: dict[str, int]) -> None:
    storage = open_storage(url, "threading", may_write=True)
    shows = _shows(storage)
    log = storage.log.read_after(SHOW, 0)

    again = {client: submit(shows, SHOW, client) for client in latest}

    assert {client: receipt.revision for client, receipt in again.items()} == latest
    assert all(receipt.is_repeated for receipt in again.values())
    assert storage.log.read_after(SHOW, 0) == log
    assert [one.revision for one in log] == list(range(1, len(log) + 1))
    assert set(acknowledged.values()) <= {one.revision for one in log}
    assert len(set(acknowledged.values())) == len(acknowledged)
    assert shows.state(SHOW) == fold(Show(SHOW), log)
    storage.close()
    assert _verdict(url) == ([("ok",)], [])


def _verdict(url: str) -> tuple[list[tuple[object, ...]], list[tuple[object, ...]]]:
    with closing(sqlite3.connect(url.removeprefix("sqlite:///"))) as connection:
        whole = connection.execute("PRAGMA integrity_check").fetchall()
        return whole, connection.execute("PRAGMA foreign_key_check").fetchall()


def _shows(storage: Storage) -> Shows:
    return Shows(storage.log, storage.writer, lambda: 0, lambda _: None)
