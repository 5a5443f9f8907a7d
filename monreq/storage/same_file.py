"""Tells whether a path still leads to the database that was opened: a stick can be pulled out, a file moved or replaced."""

from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine, event

from monreq.services.ports import StorageFailed
from monreq.storage.sqlite_file import log_of

GONE: Final = "The database's file is gone."
ANOTHER: Final = "The database's file was replaced by another."
LOG_GONE: Final = "The file beside the database that ends in -wal is gone: stop monreq and start it again."
LOG_ANOTHER: Final = (
    "The file beside the database that ends in -wal was replaced: stop monreq and start it again."
)


class SameFile:
    """Remembers which file was opened, and which write-ahead log beside it: what was stored last is only there.

    A file that was deleted or moved can still be written through an open connection, and what is written is lost.
    """

    def __init__(self, path: Path) -> None:
        self._parts = ((path, GONE, ANOTHER), (log_of(path), LOG_GONE, LOG_ANOTHER))
        self._identities = {part: _identity(part) for part, _, _ in self._parts}

    def require(self) -> None:
        """Find the same files where they were.

        Raises:
            StorageFailed: One is not there, or another one is.
        """
        for part, gone, another in self._parts:
            found = _identity(part)
            if found is None:
                raise StorageFailed(gone)
            if self._identities[part] is None:
                self._identities[part] = found
            if found != self._identities[part]:
                raise StorageFailed(another)


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def commit_only_to(same: SameFile, writing: Engine) -> None:
    """Have an engine of SQLite refuse to commit to files that are no longer where they were."""

    @event.listens_for(writing, "commit")
    def _look(_connection: Connection) -> None:
        same.require()
