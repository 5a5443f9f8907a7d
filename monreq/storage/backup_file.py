"""What a backup is: one SQLite file with every table, marked as a backup, that says when and by what it was made."""

import os
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from monreq.storage.engine import APPLICATION_ID, connect
from monreq.storage.failures import DAMAGED, DatabaseDamaged, StorageUnusable
from monreq.storage.sqlite_file import is_whole, sync_folder

BACKUP_ID: Final = 0x6D726562
"""Marks a backup, which no server starts on: "mreb" in ASCII."""

_TABLE: Final = "backup"
_MAKE_TABLE: Final = f"CREATE TABLE {_TABLE} (name TEXT PRIMARY KEY, value TEXT NOT NULL)"


@dataclass(frozen=True, slots=True)
class BackupFacts:
    """What a backup says of itself.

    Attributes:
        made_at_ms: When it was made; None for a plain database. [ms since 1970, UTC]
        program: The version of monreq that made it.
        key: The key that codes are derived from, if it is in it.
    """

    made_at_ms: int | None = None
    program: str = ""
    key: bytes | None = field(default=None, repr=False)


def write_backup(target: Path, fill: Callable[[Path], None], facts: BackupFacts) -> None:
    """Make a backup, whole or not at all; an earlier backup of that name is replaced.

    Args:
        target: Where it is to be.
        fill: Puts every table into the empty file that it is given.
        facts: What it says of itself.

    Raises:
        DatabaseDamaged: What it is filled with is damaged.
        StorageUnusable: It cannot be made, or would overwrite something else.
    """
    _refuse_to_overwrite(target)
    try:
        descriptor, name = tempfile.mkstemp(prefix=f"{target.name}.", dir=target.parent)  # mode 0600
        os.close(descriptor)
    except OSError as error:
        raise _not_made(target, error) from error
    unfinished = Path(name)
    try:
        fill(unfinished)
        _mark(unfinished, facts)
        if not _is_whole(unfinished):
            raise DatabaseDamaged(DAMAGED)  # what was read: this file is new
        _sync(unfinished)
        unfinished.replace(target)
        sync_folder(target.parent)
    except (OSError, sqlite3.Error) as error:
        raise _not_made(target, error) from error
    finally:
        unfinished.unlink(missing_ok=True)


def read_backup(path: Path) -> BackupFacts:
    """Check a backup, or a plain database of monreq that nobody uses, and return what it says of itself.

    Raises:
        StorageUnusable: It is missing, damaged, or no backup.
    """
    try:
        is_empty = path.stat().st_size == 0
    except OSError as error:
        raise StorageUnusable(f"The backup {path} cannot be read: {error.strerror}.") from error
    if is_empty or path.is_dir():
        raise StorageUnusable(f"The file {path} is no backup of monreq.")
    try:
        facts = _facts(path)
        sound = _is_whole(path)
    except sqlite3.Error as error:
        raise StorageUnusable(f"The file {path} is damaged, or no backup of monreq: {error}.") from error
    if not sound:
        raise StorageUnusable(f"The file {path} is damaged.")
    return facts


def make_plain(path: Path) -> None:
    """Turn a copy of a backup into a database; nothing of a key stays in it.

    Raises:
        sqlite3.Error: It cannot be written.
    """
    with closing(connect(path, ("secure_delete=ON",))) as connection:
        connection.execute(f"DROP TABLE IF EXISTS {_TABLE}")
        connection.execute(f"PRAGMA application_id={APPLICATION_ID}")


def _is_whole(path: Path) -> bool:
    with closing(connect(path)) as connection:
        return is_whole(connection)


def _facts(path: Path) -> BackupFacts:
    with closing(connect(path)) as connection:
        mark = connection.execute("PRAGMA application_id").fetchone()[0]
        if mark == APPLICATION_ID:
            return BackupFacts()
        if mark != BACKUP_ID:
            raise StorageUnusable(f"The file {path} is no backup of monreq.")
        said = dict(connection.execute(f"SELECT name, value FROM {_TABLE}").fetchall())  # noqa: S608 - a constant
    key = bytes.fromhex(said["key"]) if "key" in said else None
    return BackupFacts(int(said["made_at_ms"]), said["program"], key)


def _mark(path: Path, facts: BackupFacts) -> None:
    said = {"made_at_ms": str(facts.made_at_ms), "program": facts.program}
    if facts.key is not None:
        said["key"] = facts.key.hex()
    with closing(connect(path, ("journal_mode=DELETE", "synchronous=FULL"))) as connection:
        connection.execute("BEGIN")
        connection.execute(_MAKE_TABLE)
        connection.executemany(f"INSERT INTO {_TABLE} VALUES (?, ?)", said.items())  # noqa: S608 - a constant
        connection.execute(f"PRAGMA application_id={BACKUP_ID}")
        connection.execute("COMMIT")


def _refuse_to_overwrite(target: Path) -> None:
    if not target.exists():
        return
    try:
        is_backup = target.is_file() and _facts(target).made_at_ms is not None
    except (sqlite3.Error, StorageUnusable):
        is_backup = False
    if not is_backup:
        raise StorageUnusable(f"{target} is there already and is no backup: choose another name.")


def _sync(path: Path) -> None:
    with path.open("r+b") as file:
        os.fsync(file.fileno())


def _not_made(target: Path, error: Exception) -> StorageUnusable:
    why = error.strerror if isinstance(error, OSError) else error
    return StorageUnusable(f"The backup {target} cannot be made: {why}.")
