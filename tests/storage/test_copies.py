"""The copies that a server keeps by itself: sound, private, bounded, and the old ones stay where a new one fails."""

import os
import stat
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.storage.backup_file import BackupFacts
from monreq.storage.copies import NEWEST, Copies, copies_in, kept
from monreq.storage.failures import StorageUnusable
from monreq.storage.folder import DataFolder
from monreq.storage.open import open_storage
from monreq.storage.restore import check_backup
from tests.support.databases import sqlite_url

MINUTE_MS, HOUR_MS, DAY_MS = 60_000, 3_600_000, 86_400_000
MOST = NEWEST + 12 + 7
START_MS = round(datetime(2026, 5, 1, 18, tzinfo=UTC).timestamp() * 1000)


@pytest.fixture
def folder(tmp_path: Path) -> DataFolder:
    open_storage(sqlite_url(tmp_path), "threading", may_write=True).close()
    return DataFolder(tmp_path)


def copies(folder: DataFolder, now_ms: int) -> Copies:
    return Copies(sqlite_url(folder.path), folder, lambda: BackupFacts(now_ms, "0.1.0"))


def test_copy_is_a_backup_without_the_key_for_its_owner_only(folder: DataFolder) -> None:
    before = os.umask(0)
    try:
        made = copies(folder, START_MS).make()
    finally:
        os.umask(before)

    assert made == folder.copies_path / "20260501-180000.backup"
    assert check_backup(made) == BackupFacts(START_MS, "0.1.0", None)
    if os.name == "posix":
        assert stat.S_IMODE(made.stat().st_mode) == 0o600
        assert stat.S_IMODE(folder.copies_path.stat().st_mode) == 0o700


def test_copies_of_a_long_day_stay_few_and_the_newest_come_first(folder: DataFolder) -> None:
    for minutes in range(0, 12 * 60, 15):
        copies(folder, START_MS + minutes * MINUTE_MS).make()

    names = [path.name for path in copies_in(folder)]
    assert len(names) <= MOST
    assert names[:2] == ["20260502-054500.backup", "20260502-053000.backup"]
    assert names == sorted(names, reverse=True)


def test_copy_that_fails_leaves_the_others(folder: DataFolder) -> None:
    made = copies(folder, START_MS).make()
    (folder.path / "monreq.sqlite").unlink()

    with pytest.raises(StorageUnusable, match="cannot be made"):
        copies(folder, START_MS + HOUR_MS).make()

    assert copies_in(folder) == [made]
    assert list(folder.copies_path.iterdir()) == [made]


def test_file_put_among_the_copies_by_hand_is_left_alone(folder: DataFolder) -> None:
    folder.copies_path.mkdir()
    (folder.copies_path / "best show.backup").write_text("mine")
    for number in range(MOST + 5):
        copies(folder, START_MS + number * MINUTE_MS).make()

    assert (folder.copies_path / "best show.backup").read_text() == "mine"
    assert len(copies_in(folder)) <= MOST


@given(st.sets(st.integers(0, 60 * DAY_MS), max_size=80))
def test_kept_copies_are_bounded_and_hold_the_newest(times_ms: set[int]) -> None:
    newest_first = sorted(times_ms, reverse=True)

    chosen = kept(newest_first)

    assert chosen <= times_ms
    assert set(newest_first[:NEWEST]) <= chosen
    assert len(chosen) <= MOST


@given(st.lists(st.integers(MINUTE_MS, 3 * HOUR_MS), min_size=30, max_size=120))
def test_thinning_step_by_step_keeps_a_copy_of_each_of_the_last_hours(steps_ms: list[int]) -> None:
    there: list[int] = []
    made: list[int] = []
    for step_ms in steps_ms:
        made.append(step_ms + (made[-1] if made else 0))
        there = sorted(kept(sorted([*there, made[-1]], reverse=True)))

    hours = sorted({one // HOUR_MS for one in made}, reverse=True)[:12]
    assert set(hours) <= {one // HOUR_MS for one in there}
