"""A database that is damaged, emptied, missing or without its tables: no silent start, and the command that is named mends it."""

import os
import re
import shlex
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from monreq.cli.backup import facts
from monreq.storage.copies import Copies
from monreq.storage.folder import DataFolder
from tests.support.databases import sqlite_url
from tests.support.disks import fill, small_disk
from tests.support.monreq_process import ROOT, Ended, serving
from tests.support.started_commands import Command, show_on

pytestmark = pytest.mark.faults


def empty(path: Path) -> None:
    path.write_bytes(b"")


def overwrite_head(path: Path) -> None:
    with path.open("r+b") as file:
        file.write(b"\xa5" * 512)


def cut_in_half(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def overwrite_page(path: Path) -> None:
    with path.open("r+b") as file:
        file.seek(path.stat().st_size // 4096 // 2 * 4096)
        file.write(b"\xa5" * 4096)


def copy_without_log(path: Path) -> None:
    """Leave what a copy of the file alone holds where all was in the write-ahead log still."""
    path.unlink()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"PRAGMA application_id={0x6D726571}")


def remove(path: Path) -> None:
    path.unlink()


def copy_before_anything_was_stored(path: Path) -> None:
    """Leave what a copy of the file alone holds where its tables had been made and all else was in the log still."""
    with closing(sqlite3.connect(path)) as connection, connection:
        for table in ("event_subjects", "submissions", "events", "shows", "settings"):
            connection.execute(f"DELETE FROM {table}")  # noqa: S608 - one of these


def copy_of_an_hour_ago(path: Path) -> None:
    """Leave the show as it was before its last entries."""
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("DELETE FROM event_subjects WHERE revision > 1")
        connection.execute("DELETE FROM submissions")
        connection.execute("DELETE FROM events WHERE revision > 1")
        connection.execute("UPDATE shows SET head = 1")


def lose_what_an_index_lists(path: Path) -> None:
    """Leave what an older file with a newer log beside it comes to: every page is sound, and they do not belong together."""
    with closing(sqlite3.connect(path)) as connection, connection:
        (made,) = connection.execute("SELECT sql FROM sqlite_schema WHERE name = 'events'").fetchone()
        connection.execute(made.replace("events", "older", 1))
        connection.execute("INSERT INTO older SELECT * FROM events WHERE revision = 1")
        roots = dict(connection.execute("SELECT name, rootpage FROM sqlite_schema").fetchall())
        connection.execute("PRAGMA writable_schema=ON")
        for name, other in (("events", "older"), ("older", "events")):
            connection.execute("UPDATE sqlite_schema SET rootpage = ? WHERE name = ?", (roots[other], name))


DAMAGES = [
    empty,
    overwrite_head,
    cut_in_half,
    overwrite_page,
    lose_what_an_index_lists,
    copy_without_log,
    copy_before_anything_was_stored,
    copy_of_an_hour_ago,
    remove,
]


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A folder with a show and the copies that a server left."""
    folder = tmp_path / "data of the band"
    show_on(folder, "Friday", renamed="Friday night")
    Copies(sqlite_url(folder), DataFolder(folder), lambda: facts(None)).make()
    return folder


def test_folder_named_from_here_is_started_on_again_and_its_copy_put_back(
    kept: Path, here: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    folder = Path(os.path.relpath(kept, ROOT))
    (copy,) = (folder / "copies").iterdir()

    with serving("serve", folder, 0) as served:
        before = served.read("/queue")
    restored = here("restore", copy, "--replace", "--data", folder)
    with serving("serve", folder, 0) as served:
        after = served.read("/queue")

    assert (restored.errors, restored.code) == ("", 0)
    assert before == after


def serve(here: Command, folder: Path) -> Ended:
    return here("serve", "--data", folder, "--host", "127.0.0.1", "--port", "0", "--no-browser")


@pytest.mark.parametrize("damage", DAMAGES)
def test_damaged_database_is_not_started_on_and_the_named_command_mends_it(
    damage: Callable[[Path], None], kept: Path, here: Command
) -> None:
    path = kept / "monreq.sqlite"
    before = here("token", "desk", "--data", kept).output
    damage(path)
    damaged = path.read_bytes() if path.exists() else None

    refused = serve(here, kept)
    untouched = path.read_bytes() if path.exists() else None
    named = re.search(r"This puts the newest copy back: monreq (restore .*)", refused.errors)
    assert named is not None, refused.errors
    mended = here(*shlex.split(named[1]))

    assert (refused.code, refused.output, refused.errors.count("\n")) == (1, "", 1)
    assert untouched == damaged
    assert (mended.code, mended.errors) == (0, "")
    assert here("token", "desk", "--data", kept).output == before != ""
    assert [one.read_bytes() for one in kept.glob("monreq.sqlite.before-restore-*")] == (
        [] if damaged is None else [damaged]
    )


def test_pages_that_do_not_belong_together_are_named_as_damage_by_check_and_backup_too(
    kept: Path, here: Command
) -> None:
    lose_what_an_index_lists(kept / "monreq.sqlite")

    checked = here("check", "--data", kept)
    backed_up = here("backup", kept / "x.backup", "--data", kept)

    damaged = f"The database {kept}/monreq.sqlite is damaged"
    (said,) = [line for line in checked.output.splitlines() if "database:" in line]
    assert said.startswith(f"BAD database: {damaged}")
    assert backed_up.errors.startswith(f"monreq: {damaged}")
    assert all("This puts the newest copy back: monreq restore" in one for one in (said, backed_up.errors))
    assert not (kept / "x.backup").exists()


def test_check_refuses_what_serve_refuses(kept: Path, here: Command) -> None:
    copy_of_an_hour_ago(kept / "monreq.sqlite")

    checked = here("check", "--data", kept)
    refused = serve(here, kept)

    (said,) = [line for line in checked.output.splitlines() if "database:" in line]
    assert "is behind its newest copy" in said
    assert said == f"BAD database: {refused.errors.removeprefix('monreq: ').strip()}"


def test_database_that_was_put_back_from_an_older_copy_is_started_on(kept: Path, here: Command) -> None:
    older = kept / "stick.backup"
    (newest,) = (kept / "copies").iterdir()
    shutil.copy(newest, older)
    with closing(sqlite3.connect(older)) as connection, connection:
        connection.execute("DELETE FROM events WHERE revision > 1")
        connection.execute("UPDATE shows SET head = 1")
    here("restore", older, "--replace", "--data", kept)

    with serving("serve", kept, 0) as served:
        queue = served.read("/queue")

    assert queue["revision"] == 1


@pytest.mark.parametrize("left", ["monreq.sqlite-wal", "monreq.sqlite.before-restore-20260101-200000"])
def test_new_show_is_not_begun_beside_what_is_left_of_a_database(
    tmp_path: Path, here: Command, left: str
) -> None:
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / left).write_bytes(b"of the band")

    refused = serve(here, tmp_path / "data")

    assert (refused.code, refused.output, refused.errors.count("\n")) == (1, "", 1)
    assert f"is missing, but what belongs to it is there: {left}" in refused.errors
    assert not (tmp_path / "data" / "monreq.sqlite").exists()


def test_damaged_database_without_a_copy_says_so(tmp_path: Path, here: Command) -> None:
    show_on(tmp_path / "data", "Friday")
    empty(tmp_path / "data" / "monreq.sqlite")

    refused = serve(here, tmp_path / "data")

    assert (refused.code, refused.errors.count("\n")) == (1, 1)
    assert "There is no copy in this folder" in refused.errors


def test_disk_without_room_is_refused_in_one_line(tmp_path: Path, here: Command) -> None:
    with small_disk(tmp_path / "disk", 1) as disk:
        (disk / "data").mkdir()
        (disk / "ballast").write_bytes(b"\0" * (1024 * 1024 - 8192))

        refused = serve(here, disk / "data")

    assert (refused.code, refused.errors.count("\n")) == (1, 1)
    assert "full" in refused.errors


def test_database_on_a_disk_without_room_is_not_called_damaged(tmp_path: Path, here: Command) -> None:
    with small_disk(tmp_path / "disk", 4) as disk:
        show_on(disk / "data", "Friday")
        ballast = fill(disk)
        refused = serve(here, disk / "data")
        ballast.unlink()
        with serving("serve", disk / "data", 0) as served:
            served.stop()

    assert (refused.code, refused.errors.count("\n")) == (1, 1)
    assert "There is no room on the disk of the database" in refused.errors
    assert "copy" not in refused.errors
