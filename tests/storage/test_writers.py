"""Writers: jobs come back with what they return or raise, and nobody else waits."""

import json
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from monreq.domain.refusals import UnknownMix
from monreq.storage.writers import ClosableWriter, DirectWriter, GeventWriter, ThreadWriter, thread_writer
from tests.support.threads import PATIENCE_S, all_at_once

ROOT = Path(__file__).parents[2]


@pytest.fixture(params=[ThreadWriter, GeventWriter, DirectWriter])
def writer(request: pytest.FixtureRequest) -> Iterator[ClosableWriter]:
    writer: ClosableWriter = request.param()
    yield writer
    writer.close()


def refuse() -> None:
    raise UnknownMix


def test_run_returns_what_the_job_returns(writer: ClosableWriter) -> None:
    assert [writer.run(lambda: None), writer.run(lambda: 7)] == [None, 7]


def test_run_raises_what_the_job_raises(writer: ClosableWriter, capfd: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(UnknownMix, match="There is no such mix in this show"):
        writer.run(refuse)

    assert writer.run(lambda: 7) == 7
    assert capfd.readouterr() == ("", "")


def test_thread_writer_runs_one_job_at_a_time_on_one_thread() -> None:
    writer = ThreadWriter()
    at_work = threading.Lock()

    def job() -> int:
        assert at_work.acquire(blocking=False)
        threading.Event().wait(0.002)
        at_work.release()
        return threading.get_ident()

    threads = all_at_once([lambda: writer.run(job)] * 8)
    writer.close()

    assert len(set(threads)) == 1
    assert threading.get_ident() not in threads


def test_gevent_writer_runs_on_one_native_thread() -> None:
    writer = GeventWriter()

    threads = {writer.run(threading.get_ident) for _ in range(5)}
    writer.close()

    assert len(threads) == 1
    assert threading.get_ident() not in threads


def test_thread_writer_is_chosen_by_what_runs_the_requests() -> None:
    chosen = [thread_writer("gevent"), thread_writer("threading")]
    for writer in chosen:
        writer.close()

    assert [type(writer) for writer in chosen] == [GeventWriter, ThreadWriter]


def test_writer_under_gevent_stops_no_other_greenlet(url: str) -> None:
    command = [sys.executable, "-W", "error", "-m", "tests.support.greenlets", url]

    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=PATIENCE_S, check=False)

    assert (ran.returncode, ran.stderr) == (0, "")
    assert json.loads(ran.stdout) == {
        "others_went_on": True,
        "broken": ["BrokenError", "as it was"],
        "refused": ["unknown_mix", "unknown_show"],
        "revisions": list(range(2, 52)),
    }
