"""Who uses a database: those who serve it hold it together, and who puts it back from a backup holds it alone.

A data folder is held by its own lock, but a database may lie elsewhere, and several folders may lead to it.
"""

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, NullPool, create_engine, make_url, text
from sqlalchemy.exc import SQLAlchemyError

from monreq.services.ports import StorageFailed
from monreq.storage.engine import sqlite_path
from monreq.storage.failures import StorageUnusable, sentence
from monreq.storage.folder import DataFolder, NotLockable, locked

_NUMBER: Final = (
    0x6D72  # chosen: any, as long as every monreq takes the same; the second number tells schemas apart
)
_TAKE: Final = "SELECT pg_try_advisory_lock{shared}(:number, hashtext(current_schema()))"


class _Served:
    """A PostgreSQL database that is held by a connection: when that is lost, so is the lock, and it is taken again."""

    def __init__(self, url: str, *, alone: bool) -> None:
        self._engine = create_engine(
            url, poolclass=NullPool, isolation_level="AUTOCOMMIT", connect_args={"connect_timeout": 5}
        )
        self._take = text(_TAKE.format(shared="" if alone else "_shared"))
        self._connection: Connection | None = None

    def is_held(self) -> bool:
        """Hold it, or hold it still; False if somebody else keeps us from it."""
        if self._connection is not None:
            try:
                self._connection.scalar(text("SELECT 1"))
            except SQLAlchemyError:
                self.let_go()
            else:
                return True
        self._connection = self._engine.connect()
        if self._connection.scalar(self._take, {"number": _NUMBER}):
            return True
        self.let_go()
        return False

    def let_go(self) -> None:
        """Hold it no more."""
        connection, self._connection = self._connection, None
        if connection is not None:
            connection.invalidate()
            connection.close()


class Holding:
    """A database that this process serves."""

    def __init__(self, served: _Served | None = None) -> None:
        self._served = served

    def require(self) -> None:
        """Hold it still, or again.

        Raises:
            StorageFailed: It is being put back from a backup just now, or cannot be reached.
        """
        try:
            if self._served is not None and not self._served.is_held():
                raise StorageFailed("The database cannot be written to.")
        except SQLAlchemyError as error:
            raise StorageFailed(sentence(error)) from error


@contextmanager
def served(url: str, folder: DataFolder) -> Iterator[Holding]:
    """Hold a database together with others who serve it; a SQLite file can be served by one only.

    Raises:
        FolderBusy: A SQLite file is served by another process.
        StorageUnusable: It is being put back from a backup, or cannot be reached.
    """
    path = sqlite_path(make_url(url))
    if path is not None:
        with _file_held(path, folder):
            yield Holding()
        return
    with _server_held(
        url, "The database is being put back from a backup: wait until that is done.", alone=False
    ) as it:
        yield Holding(it)


@contextmanager
def held_alone(url: str, folder: DataFolder) -> Iterator[None]:
    """Keep everybody from serving a database meanwhile.

    Raises:
        FolderBusy: A SQLite file is being served.
        StorageUnusable: A server's database is being served, or cannot be reached.
    """
    path = sqlite_path(make_url(url))
    if path is not None:
        with _file_held(path, folder):
            yield
        return
    refusal = (
        "A monreq is serving this database: stop every worker first, then restore, then start them again."
    )
    with _server_held(url, refusal, alone=True):
        yield


def _file_held(path: Path, folder: DataFolder) -> AbstractContextManager[object]:
    lock = _lock_of(path)
    if lock == folder.lock_path.absolute():
        return nullcontext()  # held already, with its folder
    return _file_lock(lock, path)


def _lock_of(path: Path) -> Path:
    """Return the lock of a file: its folder's, for the name that a data folder's database has."""
    return path.with_name("lock") if path.name == "monreq.sqlite" else path.with_name(f"{path.name}.lock")


@contextmanager
def _file_lock(lock_path: Path, path: Path) -> Iterator[None]:
    try:
        with locked(lock_path, f"Another monreq is using this database: {path}."):
            yield
    except NotLockable as error:
        raise StorageUnusable(f"The database {path} cannot be locked: {error}.") from error


@contextmanager
def _server_held(url: str, refusal: str, *, alone: bool) -> Iterator[_Served]:
    it = _Served(url, alone=alone)
    try:
        if not it.is_held():
            raise StorageUnusable(refusal)
    except SQLAlchemyError as error:
        shown = make_url(url).render_as_string(hide_password=True)
        raise StorageUnusable(f"{sentence(error).removesuffix('.')}: {shown}.") from error
    try:
        yield it
    finally:
        it.let_go()
