"""A database that a newer monreq has used: refused at start in a sentence, and while serving no page dies of it."""

import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
import requests

from monreq.cli import demo_show
from tests.support.monreq_process import PATIENCE_S, Served, monreq, serving, token_in

pytestmark = pytest.mark.faults

MIXES = len(demo_show.MIXES)


def add_unknown_event(path: Path) -> None:
    with closing(sqlite3.connect(path, timeout=PATIENCE_S)) as connection, connection:
        show, head = connection.execute("SELECT id, head FROM shows").fetchone()
        connection.execute(
            "INSERT INTO events VALUES (?, ?, 0, 'desk', 'stage_flooded', '{}')", (show, head + 1)
        )
        connection.execute("UPDATE shows SET head = head + 1")


def add_newer_schema(path: Path) -> None:
    with closing(sqlite3.connect(path, timeout=PATIENCE_S)) as connection, connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")


def ready(served: Served) -> int:
    return requests.get(f"{served.url}/healthz", timeout=PATIENCE_S).status_code


def until(attempt: Callable[[], bool]) -> None:
    over = time.monotonic() + PATIENCE_S
    while not attempt():
        assert time.monotonic() < over
        time.sleep(0.1)


@pytest.mark.parametrize(("newer", "answers"), [(add_unknown_event, 503), (add_newer_schema, 201)])
def test_database_that_a_newer_monreq_used_is_refused_at_start_and_kills_no_page(
    tmp_path: Path, newer: Callable[[Path], None], answers: int
) -> None:
    folder = tmp_path / "data"
    with serving("demo", folder, MIXES, "--still") as served:
        before = ready(served)
        newer(folder / "monreq.sqlite")
        body = {"client_id": "one", "kind": "sound", "source": "kick", "words": "boomy"}
        asked = served.api("/mixes/bass/requests", token_in(served.phones["Bass"]), body)
        queue = served.api("/queue", served.desk_token)
        until(lambda: ready(served) == 503)
        ended = served.stop()
    again = monreq("serve", "--data", folder, "--host", "127.0.0.1", "--port", "0", "--no-browser")

    assert (before, asked.status_code, queue.status_code) == (200, answers, 200)
    assert "Traceback" not in ended.errors
    assert (again.code, again.output, again.errors.count("\n")) == (1, "", 1)
    assert "newer monreq" in again.errors
    assert "install that version again" in again.errors
