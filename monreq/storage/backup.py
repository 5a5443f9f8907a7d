"""Backs a database up while it is in use: a consistent copy of every table, whichever database it is."""

from pathlib import Path

from sqlalchemy import URL, Connection, Engine, insert, make_url, select
from sqlalchemy.exc import SQLAlchemyError

from monreq.storage import engine, sqlite_file
from monreq.storage.backup_file import BackupFacts, write_backup
from monreq.storage.failures import StorageUnusable, sentence
from monreq.storage.migrate import migrate
from monreq.storage.tables import metadata

_ROWS_AT_ONCE = 1000  # chosen: some hundred kilobytes


def back_up(url: str, target: Path, facts: BackupFacts) -> None:
    """Write a backup of a database that may be in use.

    Args:
        url: The database, of this program's schema.
        target: The file to be made; its folder exists.
        facts: What the backup says of itself.

    Raises:
        StorageUnusable: It cannot be made; nothing is left of it then.
    """
    parsed = make_url(url)
    path = engine.sqlite_path(parsed)
    try:
        if path is None:
            write_backup(target, lambda unfinished: _copy_from_server(parsed, unfinished), facts)
        else:
            write_backup(target, lambda unfinished: sqlite_file.copy_pages(path, unfinished), facts)
    except SQLAlchemyError as error:
        raise StorageUnusable(f"The backup {target} cannot be made: {sentence(error)}") from error


def copy_rows(source: Engine, target: Engine) -> None:
    """Copy every row of every table, in one transaction on each side, into tables that hold none."""
    with source.connect() as reading, target.begin() as writing:
        copy_rows_between(reading, writing)


def copy_rows_between(reading: Connection, writing: Connection) -> None:
    """The same within transactions that are open; tables that others refer to come first."""
    for table in metadata.sorted_tables:
        found = reading.execute(select(table), execution_options={"yield_per": _ROWS_AT_ONCE})
        for rows in found.mappings().partitions():
            writing.execute(insert(table), [dict(row) for row in rows])


def _copy_from_server(url: URL, target: Path) -> None:
    sqlite_file.make_empty(target)
    writing = engine.sqlite_migrator(target)
    migrate(writing, copy_first=lambda _version: None)
    reading = engine.postgres(url, may_write=False)
    try:
        copy_rows(reading.execution_options(isolation_level="REPEATABLE READ"), writing)
    finally:
        reading.dispose()
    sqlite_file.close_log(target)
