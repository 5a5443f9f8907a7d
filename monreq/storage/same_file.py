"""Tells whether a path still leads to the database that was opened: a stick can be pulled out, a file moved or replaced."""

from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine, event

from monreq.services.ports import StorageFailed

GONE: Final = "The database's file is gone."
ANOTHER: Final = "The database's file was replaced by another."


class SameFile:
    """Remembers which file was opened.

    A file that was deleted or moved can still be written through an open connection, and what is written is lost.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._identity = self._now()

    def require(self) -> None:
        """Find the same file where it was.

        Raises:
            StorageFailed: It is not there, or another one is.
        """
        found = self._now()
        if found is None:
            raise StorageFailed(GONE)
        if self._identity is None:
            self._identity = found
        if found != self._identity:
            raise StorageFailed(ANOTHER)

    def _now(self) -> tuple[int, int] | None:
        try:
            found = self._path.stat()
        except OSError:
            return None
        return found.st_dev, found.st_ino


def commit_only_to(same: SameFile, writing: Engine) -> None:
    """Have an engine of SQLite refuse to commit to a file that is no longer where it was."""

    @event.listens_for(writing, "commit")
    def _look(_connection: Connection) -> None:
        same.require()
