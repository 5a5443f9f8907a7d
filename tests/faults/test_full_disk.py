"""A full disk: nothing half-written, reading goes on, and writing too once there is room."""

from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from sqlalchemy import text

from monreq.domain.fold import fold
from monreq.domain.show import Show
from monreq.services.ports import StorageFailed
from monreq.services.shows import Shows
from monreq.storage.engine import sqlite_reader, sqlite_writer
from monreq.storage.log import SqlShowLog
from monreq.storage.open import open_storage
from monreq.storage.writers import ThreadWriter
from tests.support.databases import sqlite_url
from tests.support.submitting import open_show, submit

pytestmark = pytest.mark.faults

SHOW = "show1"


class SmallDisk:
    """Shows on a file that may not grow while the disk is full."""

    def __init__(self, path: Path) -> None:
        self._writing, self._reading = sqlite_writer(path), sqlite_reader(path)
        self._writer = ThreadWriter()
        self.log = SqlShowLog(self._writing, self._reading)
        self.told: list[object] = []
        self.shows = Shows(self.log, self._writer, lambda: 0, self.told.append)

    def fill(self) -> None:
        self._ask("PRAGMA max_page_count=1")  # SQLite takes the present size, if that is more

    def free(self) -> None:
        self._ask("PRAGMA max_page_count=1000000")

    def close(self) -> None:
        self._reading.dispose()
        self._writer.run(self._writing.dispose)
        self._writer.close()

    def _ask(self, pragma: str) -> None:
        def job() -> None:
            with self._writing.begin() as connection:
                connection.execute(text(pragma))

        self._writer.run(job)


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[SmallDisk]:
    open_storage(sqlite_url(tmp_path), "threading", may_write=True).close()
    disk = SmallDisk(tmp_path / "monreq.sqlite")
    open_show(disk.shows, SHOW)
    yield disk
    disk.close()


def submit_for_ever(shows: Shows) -> None:
    for number in count():
        submit(shows, SHOW, f"before-{number}")


def test_full_disk_refuses_whole_and_recovers(disk: SmallDisk) -> None:
    disk.fill()

    with pytest.raises(StorageFailed, match=r"^The disk is full\.$") as failure:
        submit_for_ever(disk.shows)
    told = len(disk.told)
    log = disk.log.read_after(SHOW, 0)
    state = disk.shows.state(SHOW)
    disk.free()
    receipt = submit(disk.shows, SHOW, f"before-{told - 1}")

    assert "database or disk is full" in str(failure.value.__cause__)
    assert [one.revision for one in log] == list(range(1, told + 1))
    assert state == fold(Show(SHOW), log)
    assert (receipt.is_repeated, receipt.revision) == (False, len(log) + 1)
    assert disk.log.read_after(SHOW, 0) == [*log, *receipt.recorded]
