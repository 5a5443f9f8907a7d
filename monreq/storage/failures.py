"""What a database's error means to a person."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from sqlalchemy.exc import DBAPIError, OperationalError, SQLAlchemyError

from monreq.services.ports import StorageFailed

DAMAGED: Final = "The database is damaged."
_SENTENCES: Final = {
    "SQLITE_FULL": "The disk is full.",
    "SQLITE_READONLY": "The database cannot be written to.",
    "SQLITE_BUSY": "The database is busy.",
    "SQLITE_LOCKED": "The database is busy.",
    "SQLITE_IOERR": "The disk reports an error.",
    "SQLITE_CANTOPEN": "The database cannot be opened.",
    "SQLITE_CORRUPT": DAMAGED,
    "SQLITE_NOTADB": DAMAGED,
    "53100": "The disk of the database is full.",
    "25006": "The database cannot be written to.",
    "55P03": "The database is busy.",
}


class StorageUnusable(Exception):  # noqa: N818 - said to a person; the name says what is wrong
    """A database that monreq does not start on; its text is one sentence."""


class DatabaseDamaged(StorageUnusable):
    """A database that can only be put back from a copy."""


@contextmanager
def reported() -> Iterator[None]:
    """Turn the database's errors into one that callers know.

    Raises:
        StorageFailed: With the database's error as its cause.
    """
    try:
        yield
    except SQLAlchemyError as error:
        raise StorageFailed(sentence(error)) from error


def sentence(error: SQLAlchemyError) -> str:
    """Return what an error of the database comes to, in a sentence."""
    if not isinstance(error, DBAPIError):
        return "The database is busy."
    if error.connection_invalidated:
        return "The connection to the database was lost."
    # An extended code of SQLite, such as SQLITE_IOERR_WRITE, begins with the primary one.
    name = "_".join(str(getattr(error.orig, "sqlite_errorname", "")).split("_")[:2])
    code = str(getattr(error.orig, "sqlstate", ""))
    return _SENTENCES.get(name) or _SENTENCES.get(code) or _of_no_code(error)


def _of_no_code(error: DBAPIError) -> str:
    # A server that was never reached has given no code.
    if isinstance(error, OperationalError) and getattr(error.orig, "sqlstate", "") is None:
        return "The database cannot be reached, or does not let monreq in."
    return "The database refused."
