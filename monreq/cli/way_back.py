"""What to do about a database that is damaged or gone: the command that puts the newest copy back."""

import shlex
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from monreq.config import Config
from monreq.storage.copies import copies_in, require_not_behind
from monreq.storage.engine import file_of
from monreq.storage.failures import DatabaseDamaged, StorageUnusable
from monreq.storage.folder import DataFolder


@contextmanager
def started_on(config: Config) -> Iterator[None]:
    """Refuse to start on a database that is missing, empty or behind though there was more of it.

    Starting on that would lose the rest without a word.

    Raises:
        StorageUnusable: That, or a failure meanwhile, with the command that puts the newest copy back.
    """
    with way_back_told(config):
        _require_database(config)
        yield


@contextmanager
def way_back_told(config: Config) -> Iterator[None]:
    """Say, with a failure that only a copy mends, how to put the newest one back.

    Raises:
        StorageUnusable: The failure.
    """
    try:
        yield
    except DatabaseDamaged as failed:
        raise StorageUnusable(f"{failed} {_way_back(config)}") from failed


def _require_database(config: Config) -> None:
    folder = DataFolder(config.data_dir)
    if folder.unfinished_restore_path.exists():
        raise StorageUnusable(
            f"A restore into {folder.path} was ended before it was finished: run monreq restore again, with --replace."
        )
    path = file_of(config.database_url)
    if path is None:
        return
    if path.exists():
        require_not_behind(path, folder)
    elif copies_in(folder):
        raise DatabaseDamaged(f"The database {path} is missing, but there are copies of it.")
    elif path.parent.is_dir():
        _refuse_to_begin_beside(path)


def _refuse_to_begin_beside(path: Path) -> None:
    made_midway = f"{path.name}.new"
    beside = [
        one.name
        for one in sorted(path.parent.iterdir())
        if one.name.startswith(path.name) and not one.name.startswith(made_midway)
    ]
    if beside:
        raise DatabaseDamaged(
            f"The database {path} is missing, but what belongs to it is there: {', '.join(beside)}."
            " Put the database back, or move that away to begin anew."
        )


def _way_back(config: Config) -> str:
    newest = next(iter(copies_in(DataFolder(config.data_dir))), None)
    if newest is None:
        return "There is no copy in this folder: see monreq restore --help for a backup from elsewhere."
    words = ["monreq", "restore", str(newest), "--replace", "--data", str(config.data_dir)]
    return f"This puts the newest copy back: {shlex.join(words)}"
