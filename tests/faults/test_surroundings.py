"""What lies around the server fails: its log, its folder, its database server, its address."""

import re
import sys
import threading
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest
import requests
from sqlalchemy import NullPool, create_engine, make_url, text

from monreq.cli import demo_show
from tests.support.databases import postgres_url
from tests.support.disks import remount, small_disk
from tests.support.links import own_link
from tests.support.monreq_process import PATIENCE_S, Served, monreq, serving, token_in

pytestmark = pytest.mark.faults

MIXES = len(demo_show.MIXES)
LOG_ENDS = {"full": 'exec "$@" 2>/dev/full', "closed": 'exec "$@" 2>&-'}
REQUESTS = 25
UNKNOWN_HOST = 421
NEITHER_TAKEN_NOR_REFUSED = (429, 503)


def ask(served: Served, client_id: str) -> requests.Response:
    body = {"client_id": client_id, "kind": "sound", "source": "kick", "words": f"{client_id} boomy"}
    return served.api("/mixes/bass/requests", token_in(served.phones["Bass"]), body)


def answer(served: Served, request: str) -> requests.Response:
    body = {
        "client_id": f"on-{request}",
        "requests": [request],
        "outcome": "not_done",
        "reason": "after_this_song",
    }
    return served.api("/decisions", served.desk_token, body)


def until_taken(attempt: Callable[[], requests.Response], ends: list[int]) -> str:
    """Repeat, as a page does, until it is taken; returns the request's id."""
    over = time.monotonic() + PATIENCE_S
    while True:
        got = attempt()
        ends.append(got.status_code)
        if got.ok:
            return str(got.json().get("request", ""))
        assert got.status_code in NEITHER_TAKEN_NOR_REFUSED, got.text
        assert time.monotonic() < over
        time.sleep(0.05)


def until_read(served: Served) -> list[dict[str, Any]]:
    """Read what became of the mix, after waiting as whoever was too fast is told to."""
    token = token_in(served.phones["Bass"])
    over = time.monotonic() + PATIENCE_S
    while (got := served.api("/mixes/bass/history", token)).status_code in NEITHER_TAKEN_NOR_REFUSED:
        assert time.monotonic() < over
        time.sleep(0.2)
    entries: list[dict[str, Any]] = got.json()["entries"]
    return entries


@pytest.mark.parametrize("end", LOG_ENDS)
def test_server_whose_log_cannot_be_written_goes_on(tmp_path: Path, end: str) -> None:
    with serving(
        "demo", tmp_path / "data", MIXES, "--still", through=("sh", "-c", LOG_ENDS[end], "sh")
    ) as served:
        refused = [
            requests.get(served.url, headers={"Host": "elsewhere.test"}, timeout=PATIENCE_S).status_code
            for _ in range(5)
        ]
        asked = ask(served, "after-1").status_code
        ended = served.stop()

    assert refused == [421] * 5
    assert asked == 201
    assert ended.code == 0


def test_folder_that_cannot_be_written_is_refused_in_one_line(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk", 24) as disk:
        folder = disk / "data"
        with serving("demo", folder, MIXES, "--still") as served:
            assert ask(served, "before-1").status_code == 201
            served.stop()
        remount(disk, "ro")

        ended = monreq("serve", "--data", folder, "--host", "127.0.0.1", "--port", "0", "--no-browser")
        fresh = monreq("serve", "--data", disk / "new", "--host", "127.0.0.1", "--port", "0", "--no-browser")
        remount(disk, "rw")
        with serving("serve", folder, MIXES) as served:
            again = ask(served, "before-1").status_code

    for one in (ended, fresh):
        assert (one.output, one.code) == ("", 1)
        assert one.errors.startswith("monreq: ")
        assert one.errors.count("\n") == 1
    assert again == 200


@pytest.mark.postgres
def test_connections_that_the_database_cuts_under_load_cost_no_request_and_double_none(
    tmp_path: Path,
) -> None:
    with postgres_url() as plain:
        name = f"monreq-{tmp_path.name}"[:60]
        url = (
            make_url(plain)
            .update_query_dict({"application_name": name})
            .render_as_string(hide_password=False)
        )
        is_over, cut, ends = threading.Event(), [], list[int]()
        with serving("demo", tmp_path / "data", MIXES, "--still", MONREQ_DATABASE_URL=url) as served:

            def cut_again_and_again() -> None:
                while not is_over.wait(0.05):
                    cut.append(cut_connections(plain, name))

            evil = threading.Thread(target=cut_again_and_again)
            evil.start()
            taken = []
            for number in range(REQUESTS):
                request = until_taken(partial(ask, served, f"ask-{number}"), ends)
                until_taken(partial(answer, served, request), ends)
                taken.append(request)
            is_over.set()
            evil.join()
            entries = until_read(served)

    known = [one["requests"][0] for one in entries if one["what"] == "asked"]
    assert sum(cut) > 0
    assert [request for request in taken if known.count(request) != 1] == []
    assert len(set(taken)) == REQUESTS


def cut_connections(url: str, name: str) -> int:
    """End the connections of one program; returns how many."""
    ending = text(
        "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE application_name = :name"
    )
    with create_engine(url, poolclass=NullPool).connect() as connection:
        return int(connection.scalar(ending, {"name": name}) or 0)


def open_desk(served: Served) -> requests.Session:
    desk = requests.Session()
    page = desk.get(served.desk, timeout=PATIENCE_S).text
    found = re.search(r'name="csrf_token"[^>]* value="([^"]+)"', page)
    assert found is not None
    desk.post(served.desk, data={"csrf_token": found[1]}, timeout=PATIENCE_S)
    return desk


def test_laptop_that_gets_another_address_tells_the_desk_and_old_codes_open_their_mix(tmp_path: Path) -> None:
    with own_link() as link:
        before = link.here
        words = ("--still", "--host", "0.0.0.0")  # noqa: S104 - reached by the link and by this machine
        with serving("demo", tmp_path / "data", MIXES, *words, "--address", before) as served:
            desk = open_desk(served)
            assert desk.get(f"{served.url}/desk/codes", timeout=PATIENCE_S).ok
            assert f"Codes point to {before}" not in desk.get(f"{served.url}/desk", timeout=PATIENCE_S).text

            after = link.move(35)

            over = time.monotonic() + PATIENCE_S
            while f"Codes point to {before}" not in (
                page := desk.get(f"{served.url}/desk", timeout=PATIENCE_S).text
            ):
                assert time.monotonic() < over
                time.sleep(0.2)
            link_now = served.phones["Bass"].replace(before, after)
            while (opened := requests.get(link_now, timeout=PATIENCE_S)).status_code == UNKNOWN_HOST:
                assert time.monotonic() < over
                time.sleep(0.2)
            checked = monreq("check", "--data", tmp_path / "data", "--address", after)
            desk.close()

    assert "set it back to that address, or print the codes again" in page
    assert opened.status_code == 200
    assert f"BAD codes: printed ones point to {before}" in checked.output


@pytest.mark.skipif(sys.platform == "win32", reason="it has no such limit")
def test_few_open_files_are_told_when_serving_begins(tmp_path: Path) -> None:
    through = ("prlimit", "--nofile=300:300")
    with serving("demo", tmp_path / "data", MIXES, "--still", through=through) as served:
        ended = served.stop()

    assert "only 300 files may be open at once, and phones would be refused" in ended.errors


def test_what_cannot_be_stored_is_in_the_log_with_its_show_and_kind(tmp_path: Path) -> None:
    with serving("demo", tmp_path / "data", MIXES, "--still") as served:
        (tmp_path / "data" / "monreq.sqlite").rename(tmp_path / "away")
        refused = ask(served, "one")
        (tmp_path / "away").rename(tmp_path / "data" / "monreq.sqlite")
        show = token_in(served.desk).partition(".")[0]
        errors = served.stop().errors

    assert refused.status_code == 503
    (line,) = [line for line in errors.splitlines() if "not stored" in line]
    assert f"not stored in show {show}: AskAboutSound: The database's file is gone." in line
