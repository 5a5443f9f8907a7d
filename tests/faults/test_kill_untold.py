"""A server killed after a request was stored, before anybody was told: whoever missed it reads it, and it counts once."""

import sys
from pathlib import Path

import pytest
import requests

from monreq.cli import demo_show
from tests.support.monreq_process import PATIENCE_S, Served, serving, token_in
from tests.support.workers import Listener

pytestmark = pytest.mark.faults

MIXES = len(demo_show.MIXES)
DYING = (sys.executable, "-m", "tests.support.dies_before_telling")
FATAL = "last-words"  # as in dies_before_telling
BODY = {"client_id": FATAL, "kind": "level", "source": "kick", "change_db": 3}


def ask(served: Served) -> requests.Response:
    return served.api("/mixes/bass/requests", token_in(served.phones["Bass"]), BODY)


def test_what_was_stored_and_never_told_is_read_after_the_restart_and_counts_once(tmp_path: Path) -> None:
    with serving("demo", tmp_path / "data", MIXES, "--still", through=DYING) as served:
        phone = Listener(served.url, "/phone", token_in(served.phones["Bass"]))
        with pytest.raises(requests.ConnectionError):
            ask(served)
        code = served.process.wait()
        phone.ended.get(timeout=PATIENCE_S)
        phone.close()
        # How the show was prepared may be told late on a busy machine, and is another matter.
        told = [push for push in phone.pushed() if FATAL in push["client_ids"]]

    with serving("serve", tmp_path / "data", MIXES) as served:
        with Listener(served.url, "/phone", token_in(served.phones["Bass"])) as page:
            revision_after = page.revision
        before_replay = [row["asked"] for row in served.read("/queue")["rows"]]
        replayed = ask(served).status_code
        after_replay = [row["asked"] for row in served.read("/queue")["rows"]]

    assert (code, told) == (137, [])
    assert revision_after > phone.revision
    assert before_replay == after_replay == [1]
    assert replayed == 200
