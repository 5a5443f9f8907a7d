"""A database that is damaged, emptied, missing or without its tables: no silent start, and the command that is named mends it."""

import re
import shlex
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from monreq.cli.backup import facts
from monreq.storage.copies import Copies
from monreq.storage.folder import DataFolder
from tests.support.databases import sqlite_url
from tests.support.disks import small_disk
from tests.support.monreq_process import Ended
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


DAMAGES = [empty, overwrite_head, cut_in_half, overwrite_page, copy_without_log, remove]


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A folder with a show and the copies that a server left."""
    folder = tmp_path / "data of the band"
    show_on(folder, "Friday")
    Copies(sqlite_url(folder), DataFolder(folder), lambda: facts(None)).make()
    return folder


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
