"""What to do about a database that is damaged or gone: the command that puts the newest copy back."""

import shlex
from collections.abc import Iterator
from contextlib import contextmanager

from monreq.config import Config
from monreq.storage.copies import copies_in
from monreq.storage.engine import file_of
from monreq.storage.failures import DatabaseDamaged, StorageUnusable
from monreq.storage.folder import DataFolder


@contextmanager
def way_back_told(config: Config) -> Iterator[None]:
    """Say, with a failure that only a copy mends, how to put the newest one back.

    Raises:
        StorageUnusable: The failure; also where the database is missing though there are copies of it, for a new
            one would look as if everything had been lost.
    """
    try:
        _require_database(config)
        yield
    except DatabaseDamaged as failed:
        raise StorageUnusable(f"{failed} {_way_back(config)}") from failed


def _require_database(config: Config) -> None:
    path = file_of(config.database_url)
    if path is not None and not path.exists() and copies_in(DataFolder(config.data_dir)):
        raise DatabaseDamaged(f"The database {path} is missing, but there are copies of it.")


def _way_back(config: Config) -> str:
    newest = next(iter(copies_in(DataFolder(config.data_dir))), None)
    if newest is None:
        return "There is no copy in this folder: see monreq restore --help for a backup from elsewhere."
    words = ["monreq", "restore", str(newest), "--replace", "--data", str(config.data_dir)]
    return f"This puts the newest copy back: {shlex.join(words)}"
