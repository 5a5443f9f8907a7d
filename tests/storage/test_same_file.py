"""A database that is moved, deleted or replaced while it is open: nothing is acknowledged that would be lost."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from monreq.services.ports import StorageFailed
from monreq.storage.open import Storage, open_storage
from monreq.storage.same_file import ANOTHER, GONE, LOG_ANOTHER, LOG_GONE
from tests.support.databases import sqlite_url


@pytest.fixture
def opened(tmp_path: Path) -> Storage:
    storage = open_storage(sqlite_url(tmp_path), "threading", may_write=True)
    storage.settings.put("name", "before")
    return storage


def test_write_to_a_file_that_is_gone_fails_and_works_again_once_it_is_back(
    opened: Storage, tmp_path: Path
) -> None:
    path, away = tmp_path / "monreq.sqlite", tmp_path / "away.sqlite"
    path.rename(away)
    with pytest.raises(StorageFailed, match=GONE):
        opened.settings.put("name", "lost")
    with pytest.raises(StorageFailed, match=GONE):
        opened.look()

    away.rename(path)
    opened.look()
    kept = opened.settings.get("name")
    opened.settings.put("name", "after")

    assert (kept, opened.settings.get("name")) == ("before", "after")
    opened.close()


def test_write_to_a_file_that_was_replaced_fails(opened: Storage, tmp_path: Path) -> None:
    other = tmp_path / "other"
    other.mkdir()
    open_storage(sqlite_url(other), "threading", may_write=True).close()
    (other / "monreq.sqlite").replace(tmp_path / "monreq.sqlite")

    with pytest.raises(StorageFailed, match=ANOTHER):
        opened.settings.put("name", "lost")

    opened.close()


def stored_in(path: Path) -> list[str]:
    """Return what a file holds by itself, as a copy by hand that leaves out what lies beside it."""
    alone = path.with_name("alone")
    alone.mkdir()
    shutil.copy(path, alone)
    with closing(sqlite3.connect(alone / path.name)) as connection:
        found = [value for (value,) in connection.execute("SELECT value FROM settings")]
    shutil.rmtree(alone)
    return found


def test_write_beside_a_log_that_is_gone_fails_and_what_was_stored_before_is_in_the_file(
    opened: Storage, tmp_path: Path
) -> None:
    path = tmp_path / "monreq.sqlite"
    (tmp_path / "monreq.sqlite-wal").unlink()

    with pytest.raises(StorageFailed, match=LOG_GONE):
        opened.settings.put("name", "lost")
    with pytest.raises(StorageFailed, match=LOG_GONE):
        opened.look()

    assert stored_in(path) == ["before"]
    opened.close()


def test_write_beside_a_log_that_was_replaced_fails(opened: Storage, tmp_path: Path) -> None:
    log = tmp_path / "monreq.sqlite-wal"
    log.rename(tmp_path / "away")
    shutil.copy(tmp_path / "away", log)

    with pytest.raises(StorageFailed, match=LOG_ANOTHER):
        opened.settings.put("name", "lost")

    opened.close()


def test_log_that_is_put_back_is_written_to_again(opened: Storage, tmp_path: Path) -> None:
    log, away = tmp_path / "monreq.sqlite-wal", tmp_path / "away"
    log.rename(away)
    with pytest.raises(StorageFailed, match=LOG_GONE):
        opened.settings.put("name", "lost")

    away.rename(log)
    opened.settings.put("name", "after")

    assert opened.settings.get("name") == "after"
    opened.close()


def test_file_alone_holds_all_that_was_stored_once_it_was_folded_in_or_opened(
    opened: Storage, tmp_path: Path
) -> None:
    before = stored_in(tmp_path / "monreq.sqlite") if opened.fold_in() else []
    opened.settings.put("name", "after")
    not_yet = stored_in(tmp_path / "monreq.sqlite")

    again = open_storage(sqlite_url(tmp_path), "threading", may_write=True)

    assert (before, not_yet) == (["before"], ["before"])
    assert stored_in(tmp_path / "monreq.sqlite") == ["after"]
    again.close()
    opened.close()
