"""The schema's version: which one a database has, and bringing it to this program's."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from typing import Final

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, text

from monreq.paths import migrations_dir
from monreq.storage.failures import DatabaseDamaged, StorageUnusable

_LOCK: Final = 0x6D726571  # chosen: any number, as long as every monreq takes the same


class TablesMissing(DatabaseDamaged):
    """The database has no tables: a copy of the file alone lacks what its write-ahead log held."""

    def __init__(self) -> None:
        super().__init__(
            "The database has no tables, as if it had been copied without the file beside it that ends in -wal:"
            " put it back from a copy."
        )


def migrate(engine: Engine, copy_first: Callable[[str], None]) -> None:
    """Bring a database to this program's schema; two processes that start at once do it one after the other.

    Args:
        engine: Made for migrating.
        copy_first: Keeps a copy of a database that is to be changed, given the version it has.

    Raises:
        StorageUnusable: The database was made by a newer monreq, or cannot be copied.
    """
    with engine.connect() as connection, _nobody_else(connection):
        stored = _stored_version(connection)
        if stored == _newest_version():
            return
        _refuse_newer(stored)
        if stored is not None:
            copy_first(stored)
        command.upgrade(_config(connection), "head")
        connection.commit()


def schema_is_current(engine: Engine) -> bool:
    """Whether a database has this program's schema."""
    with engine.connect() as connection:
        return _stored_version(connection) == _newest_version()


def require_current(engine: Engine) -> None:
    """Refuse a database of another version, for those who only read.

    Raises:
        StorageUnusable: Why not.
    """
    with engine.connect() as connection:
        stored = _stored_version(connection)
    _refuse_newer(stored)
    if stored is None:
        raise StorageUnusable("The database has no shows yet: start monreq serve first.")
    if stored != _newest_version():
        raise StorageUnusable(
            "The database is from an earlier monreq: start monreq serve once, which updates it."
        )


def require_known(engine: Engine) -> None:
    """Refuse a database that this program can neither use nor bring up to date.

    Raises:
        StorageUnusable: Why not.
    """
    with engine.connect() as connection:
        stored = _stored_version(connection)
    _refuse_newer(stored)
    if stored is None:
        raise TablesMissing


def _refuse_newer(stored: str | None) -> None:
    known = {script.revision for script in _scripts().walk_revisions()}
    if stored is not None and stored not in known:
        raise StorageUnusable("The database is from a newer monreq: install that version again.")


@contextmanager
def _nobody_else(connection: Connection) -> Iterator[None]:
    """Let other processes wait; with SQLite the data folder's lock does."""
    if connection.dialect.name != "postgresql":
        yield
        return
    connection.execute(text("SELECT pg_advisory_lock(:lock)"), {"lock": _LOCK})
    connection.commit()
    try:
        yield
    finally:
        connection.rollback()
        connection.execute(text("SELECT pg_advisory_unlock(:lock)"), {"lock": _LOCK})
        connection.commit()


def _stored_version(connection: Connection) -> str | None:
    version = MigrationContext.configure(connection).get_current_revision()
    connection.rollback()
    return version


def _newest_version() -> str | None:
    return _newest_in(str(migrations_dir()))


@cache
def _newest_in(folder: str) -> str | None:
    return ScriptDirectory(folder).get_current_head()


def _scripts() -> ScriptDirectory:
    return ScriptDirectory(str(migrations_dir()))


def _config(connection: Connection) -> Config:
    config = Config(attributes={"connection": connection})
    config.set_main_option("script_location", str(migrations_dir()).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config
