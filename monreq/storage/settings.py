"""What holds for the whole installation, not for one show: names with values, such as the Wi-Fi's."""

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Final

from sqlalchemy import Engine, select, text

from monreq.services.ports import Writer
from monreq.storage.failures import reported
from monreq.storage.tables import settings

_PUT: Final = text(
    "INSERT INTO settings (name, value) VALUES (:name, :value)"
    " ON CONFLICT (name) DO UPDATE SET value = excluded.value"
)


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

    def _put(self, name: str, value: str) -> None:
        with reported(), self._writing.begin() as connection:
            connection.execute(_PUT, {"name": name, "value": value})
