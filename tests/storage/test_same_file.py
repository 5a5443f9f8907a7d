"""A database that is moved, deleted or replaced while it is open: nothing is acknowledged that would be lost."""

from pathlib import Path

import pytest

from monreq.services.ports import StorageFailed
from monreq.storage.open import Storage, open_storage
from monreq.storage.same_file import ANOTHER, GONE
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
