"""Two hundred phones come back after a restart, while the desk goes on."""

import time
from pathlib import Path

import pytest

from monreq.cli import demo_show
from monreq.live.capacity import PER_CODE
from tests.support.many_pages import ManyPages
from tests.support.monreq_process import PATIENCE_S, Served, serving, token_in

pytestmark = pytest.mark.faults

PHONES = 200
MIXES = len(demo_show.MIXES)


def come(served: Served, pages: ManyPages) -> list[int]:
    """Have all phones come, evenly over the mixes, and the desk read between; returns what the desk was answered."""
    tokens = [token_in(link) for link in served.phones.values()]
    statuses = []
    for number in range(PHONES):
        assert pages.open(served.url, tokens[number % len(tokens)])
        if number % 10 == 0:
            statuses.append(served.api("/queue", served.desk_token).status_code)
    return statuses


def test_two_hundred_phones_return_after_a_restart_and_the_desk_works_all_along(tmp_path: Path) -> None:
    assert MIXES * PER_CODE >= PHONES
    with serving("demo", tmp_path / "data", MIXES, "--still") as served, ManyPages() as pages:
        before = come(served, pages)
        port = served.url.rpartition(":")[2]
        served.process.kill()
    with serving("demo", tmp_path / "data", MIXES, "--still", "--port", port) as served, ManyPages() as pages:
        after = come(served, pages)
        bass = token_in(served.phones["Bass"])
        of_bass = sum(number % MIXES == list(served.phones).index("Bass") for number in range(PHONES))

        body = {"client_id": "late-1", "kind": "level", "source": "kick", "change_db": 1}
        asked = served.api("/mixes/bass/requests", bass, body)
        over = time.monotonic() + PATIENCE_S
        while pages.heard[bass] < of_bass and time.monotonic() < over:
            time.sleep(0.05)

        assert before == after == [200] * (PHONES // 10)
        assert asked.status_code == 201
        assert pages.heard == {bass: of_bass} | dict.fromkeys(set(pages.heard) - {bass}, 0)
        assert pages.lost == 0
        assert served.stop().errors == ""
