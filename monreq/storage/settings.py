"""What holds for the whole installation, not for one show: names with values, such as the Wi-Fi's."""

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Final

from sqlalchemy import Engine, TextClause, select, text

from monreq.services.ports import Writer
from monreq.storage.failures import reported
from monreq.storage.tables import settings

_PUT: Final = text(
    "INSERT INTO settings (name, value) VALUES (:name, :value)"
    " ON CONFLICT (name) DO UPDATE SET value = excluded.value"
)
_KEEP: Final = text("INSERT INTO settings (name, value) VALUES (:name, :value) ON CONFLICT (name) DO NOTHING")

KEY: Final = "key_fingerprint"
"""The setting that tells by which key the codes of a server's database are made: every worker needs that one."""

EPOCH: Final = "epoch"
"""The setting that says which restoring of the data this is; another one for each."""

PUT_BACK: Final = "The database was put back from a backup meanwhile: stop monreq and start it again."

FIRST_EPOCH: Final = "0"
"""What it is while nothing was ever restored, and nothing is kept of it."""


def renew_epoch(path: Path, epoch: str) -> None:
    """Let a file that is put back be of another epoch: what was sent before is never taken for what is sent after.

    Raises:
        sqlite3.Error: Nothing was written.
    """
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute(str(_PUT), {"name": EPOCH, "value": epoch})


def renew_key(path: Path, fingerprint: str | None) -> None:
    """Let a file that is put back go by a key; None lets it go by that of whoever serves it first.

    Raises:
        sqlite3.Error: Nothing was written.
    """
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("DELETE FROM settings WHERE name = ?", (KEY,))
        if fingerprint is not None:
            connection.execute(str(_PUT), {"name": KEY, "value": fingerprint})


class InstallationSettings:
    """Values that outlive every show, by name."""

    def __init__(self, writing: Engine, reading: Engine, writer: Writer) -> None:
        self._writing = writing
        self._reading = reading
        self._writer = writer

    def get(self, name: str) -> str | None:
        """Return a value; None if there is none.

        Raises:
            StorageFailed: It cannot be read.
        """
        with reported(), self._reading.connect() as connection:
            return connection.scalar(select(settings.c.value).where(settings.c.name == name))

    def put(self, name: str, value: str) -> None:
        """Keep a value, in the place of an earlier one.

        Raises:
            StorageFailed: Nothing was stored.
        """
        self._writer.run(lambda: self._put(name, value))

    def keep(self, name: str, value: str) -> str:
        """Keep a value where there is none, and return what is kept: at several processes at once the first one's.

        Raises:
            StorageFailed: It cannot be stored or read.
        """
        self._writer.run(lambda: self._put(name, value, _KEEP))
        return self.get(name) or value

    def _put(self, name: str, value: str, put: TextClause = _PUT) -> None:
        with reported(), self._writing.begin() as connection:
            connection.execute(put, {"name": name, "value": value})
