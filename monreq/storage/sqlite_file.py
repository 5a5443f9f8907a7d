"""The SQLite file as a whole: making it, judging one that is there, copying it."""

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from monreq.storage.engine import APPLICATION_ID, READING, connect
from monreq.storage.failures import DatabaseDamaged, StorageUnusable


def make_file(path: Path, fill: Callable[[Path], None]) -> None:
    """Make a database file, whole or not at all.

    Args:
        path: Where it is to be.
        fill: Makes the tables in the file that it is given.

    Raises:
        StorageUnusable: It cannot be made.
    """
    unfinished = path.with_name(f"{path.name}.new")
    try:
        make_empty(unfinished)
        fill(unfinished)
        unfinished.replace(path)
        sync_folder(path.parent)
    except (OSError, sqlite3.Error) as error:
        raise StorageUnusable(f"The database {path} cannot be made: {error}.") from error


def check_file(path: Path) -> None:
    """Refuse a file that is not a sound database of monreq.

    Raises:
        StorageUnusable: Why not.
    """
    try:
        is_empty = path.stat().st_size == 0
    except OSError as error:
        raise DatabaseDamaged(f"The database {path} cannot be found: {error.strerror}.") from error
    if is_empty:
        raise DatabaseDamaged(
            f"The file {path} is empty and no database: put it back from a copy, or remove it."
        )
    try:
        application_id, verdict = _ask(path)
    except sqlite3.Error as error:
        raise DatabaseDamaged(f"The database {path} cannot be used: {error}.") from error
    if application_id != APPLICATION_ID:
        raise DatabaseDamaged(f"The file {path} is not a database of monreq.")
    if verdict != "ok":
        raise DatabaseDamaged(
            f"The database {path} is damaged: put it back from a copy, and keep the damaged file."
        )


def copy_file(path: Path, target: Path) -> None:
    """Copy a database that may be in use, whole or not at all; a copy that is there is replaced.

    Raises:
        StorageUnusable: It cannot be copied.
    """
    unfinished = target.with_name(f"{target.name}.new")
    try:
        remove(unfinished)
        os.close(os.open(unfinished, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        copy_pages(path, unfinished)
        unfinished.replace(target)
        sync_folder(target.parent)
    except (OSError, sqlite3.Error) as error:
        raise StorageUnusable(f"The database cannot be copied to {target}: {error}.") from error


def copy_pages(path: Path, target: Path) -> None:
    """Copy a database as it is at one moment into an empty file, without keeping anybody from writing.

    Raises:
        sqlite3.Error: It cannot be copied.
    """
    with closing(connect(path, READING)) as source, closing(connect(target)) as copy:
        source.backup(copy)
        # Without its own write-ahead log the copy is one file.
        copy.execute("PRAGMA journal_mode=DELETE")


def make_empty(path: Path) -> None:
    """Make a file that is marked as monreq's and holds no table yet."""
    remove(path)
    os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    with closing(connect(path)) as connection:
        connection.execute(f"PRAGMA application_id={APPLICATION_ID}")


def _ask(path: Path) -> tuple[int, str]:
    with closing(connect(path)) as connection:
        application_id = connection.execute("PRAGMA application_id").fetchone()[0]
        return int(application_id), str(connection.execute("PRAGMA quick_check(1)").fetchone()[0])


def remove(path: Path) -> None:
    """Remove a database file and what SQLite keeps beside it, if they are there."""
    for name in (path.name, f"{path.name}-wal", f"{path.name}-shm", f"{path.name}-journal"):
        path.with_name(name).unlink(missing_ok=True)


def sync_folder(folder: Path) -> None:
    """Make a new name last; Windows has no such call, and needs none."""
    if os.name == "posix":
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
