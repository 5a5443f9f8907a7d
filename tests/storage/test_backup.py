"""Backups: consistent while others write, for their owner only, and put back whole into either kind of database."""

import os
import sqlite3
import stat
import threading
from contextlib import closing
from itertools import count
from pathlib import Path

import pytest

from monreq.services.shows import Shows
from monreq.storage.backup import back_up
from monreq.storage.backup_file import BackupFacts, read_backup
from monreq.storage.failures import StorageUnusable
from monreq.storage.folder import DataFolder
from monreq.storage.open import Storage, open_storage
from monreq.storage.restore import AlreadyThere, Restoring, check_backup
from tests.support.databases import BOTH, database_url
from tests.support.submitting import open_show, submit

SHOW = "show1"
KEY = bytes(range(32))
FACTS = BackupFacts(1_000, "0.1.0", KEY)


def shows_of(storage: Storage) -> Shows:
    return Shows(storage.log, storage.writer, lambda: 0, lambda _: None)


@pytest.fixture
def filled(url: str, storage: Storage) -> str:
    shows = shows_of(storage)
    open_show(shows, SHOW)
    for number in range(30):
        submit(shows, SHOW, f"before-{number}")
    return url


@pytest.fixture
def target(tmp_path: Path) -> Path:
    folder = tmp_path / "stick"
    folder.mkdir()
    return folder / "tonight.backup"


def restored(target: Path, url: str, folder: Path, *, may_replace: bool = False) -> list[Path]:
    data = DataFolder(folder)
    data.create()
    return Restoring(url, data, may_replace, "before-restore-now", "epoch-1").restore(
        target, check_backup(target)
    )


def fill(url: str, client_id: str) -> None:
    opened = open_storage(url, "threading", may_write=True)
    shows = shows_of(opened)
    if not shows.entries():
        open_show(shows, SHOW)
    submit(shows, SHOW, client_id)
    opened.close()


def log_in(url: str) -> list[object]:
    opened = open_storage(url, "threading", may_write=True)
    log: list[object] = [*opened.log.read_after(SHOW, 0)]
    opened.close()
    return log


def test_backup_says_what_it_is_and_is_for_its_owner_only(filled: str, target: Path) -> None:
    before = os.umask(0)
    try:
        back_up(filled, target, FACTS)
    finally:
        os.umask(before)

    assert read_backup(target) == FACTS
    assert [one.name for one in target.parent.iterdir()] == [target.name]
    if os.name == "posix":
        assert stat.S_IMODE(target.stat().st_mode) == 0o600


@pytest.mark.parametrize("kind", BOTH)
def test_backup_is_restored_whole_into_either_database(
    kind: str, filled: str, storage: Storage, target: Path, tmp_path: Path
) -> None:
    back_up(filled, target, FACTS)
    (tmp_path / "other").mkdir()

    with database_url(kind, tmp_path / "other") as url:
        put_aside = restored(target, url, tmp_path / "other")
        again = open_storage(url, "threading", may_write=True)
        repeated = submit(shows_of(again), SHOW, "before-7")
        again.close()

        assert (put_aside, repeated.is_repeated) == ([], True)
        assert log_in(url) == storage.log.read_after(SHOW, 0)
        assert DataFolder(tmp_path / "other").read_key() == KEY


def test_restore_over_shows_wants_to_be_told_and_keeps_them(url: str, target: Path, tmp_path: Path) -> None:
    fill(url, "before-1")
    back_up(url, target, FACTS)
    at_backup = log_in(url)
    fill(url, "later-2")

    with pytest.raises(AlreadyThere, match="say --replace, which keeps them beside"):
        restored(target, url, tmp_path)
    kept = log_in(url)
    (put_aside,) = restored(target, url, tmp_path, may_replace=True)

    assert len(kept) == len(at_backup) + 1
    assert log_in(url) == at_backup
    with closing(sqlite3.connect(put_aside)) as old:
        assert old.execute("SELECT count(*) FROM events").fetchone() == (len(kept),)


def test_restored_database_holds_no_trace_of_the_key(filled: str, target: Path, tmp_path: Path) -> None:
    back_up(filled, target, FACTS)
    folder = tmp_path / "other"

    restored(target, f"sqlite:///{(folder / 'monreq.sqlite').as_posix()}", folder)

    assert KEY.hex().encode() in target.read_bytes()
    assert KEY.hex().encode() not in (folder / "monreq.sqlite").read_bytes()


@pytest.mark.faults
def test_backup_while_others_write_is_of_one_moment(
    filled: str, storage: Storage, target: Path, tmp_path: Path
) -> None:
    enough = threading.Event()
    shows = shows_of(storage)

    def write() -> None:
        for number in count():
            submit(shows, SHOW, f"during-{number}")
            if enough.is_set():
                return

    writing = threading.Thread(target=write)
    writing.start()
    try:
        backups = [target.with_name(f"{number}.backup") for number in range(8)]
        for one in backups:
            back_up(filled, one, FACTS)
    finally:
        enough.set()
        writing.join()

    whole = storage.log.read_after(SHOW, 0)
    for number, one in enumerate(backups):
        folder = tmp_path / f"restored{number}"
        url = f"sqlite:///{(folder / 'monreq.sqlite').as_posix()}"
        restored(one, url, folder)
        log = log_in(url)
        assert log == whole[: len(log)]
        assert len(log) >= 31


def test_backup_over_something_else_is_refused_and_leaves_it(filled: str, target: Path) -> None:
    target.write_text("the set list")

    with pytest.raises(StorageUnusable, match="is there already and is no backup: choose another name"):
        back_up(filled, target, FACTS)

    assert target.read_text() == "the set list"


def test_backup_replaces_an_earlier_one(filled: str, target: Path) -> None:
    back_up(filled, target, BackupFacts(1, "0.1.0", None))
    back_up(filled, target, FACTS)

    assert read_backup(target) == FACTS


def test_backup_into_a_missing_folder_is_refused(filled: str, tmp_path: Path) -> None:
    with pytest.raises(StorageUnusable, match="cannot be made"):
        back_up(filled, tmp_path / "missing" / "x.backup", FACTS)


@pytest.mark.parametrize("damage", ["cut", "garbage", "empty", "text", "missing", "page"])
def test_restore_of_what_is_no_sound_backup_is_refused(filled: str, target: Path, damage: str) -> None:
    back_up(filled, target, FACTS)
    whole = target.read_bytes()
    garbage = b"\xa5" * 512
    match damage:
        case "cut":
            target.write_bytes(whole[: len(whole) // 2])
        case "garbage":
            target.write_bytes(garbage + whole[512:])
        case "page":
            target.write_bytes(whole[: len(whole) // 2] + garbage + whole[len(whole) // 2 + 512 :])
        case "empty":
            target.write_bytes(b"")
        case "text":
            target.write_text("the set list")
        case _:
            target.unlink()

    with pytest.raises(StorageUnusable, match=r"damaged|no backup|cannot be read"):
        check_backup(target)


def test_restore_of_a_backup_from_a_newer_monreq_is_refused(filled: str, target: Path) -> None:
    back_up(filled, target, FACTS)
    with closing(sqlite3.connect(target)) as connection, connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")

    with pytest.raises(StorageUnusable, match="from a newer monreq"):
        check_backup(target)
