"""The copies that a running server keeps by itself: in a folder beside the database, a bounded number of them."""

import re
import sqlite3
from collections.abc import Callable, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from monreq.storage.backup import back_up
from monreq.storage.backup_file import BackupFacts
from monreq.storage.engine import READING, connect
from monreq.storage.failures import DatabaseDamaged
from monreq.storage.folder import DataFolder, FolderError
from monreq.storage.settings import EPOCH, FIRST_EPOCH
from monreq.storage.sqlite_file import log_of

_HOUR_MS: Final = 3_600_000
NEWEST: Final = 5
"""So many of the newest are kept, however near to one another. Chosen: a quarter of an hour of a show."""
_SPACED: Final = ((_HOUR_MS, 12), (24 * _HOUR_MS, 7))  # chosen: half a day by the hour, a week by the day
_NAME = re.compile(r"\d{8}-\d{6}\.backup")
_TIME: Final = "%Y%m%d-%H%M%S"


@dataclass(frozen=True, slots=True)
class Copies:
    """The copies of one database.

    Attributes:
        url: The database.
        folder: The data folder.
        facts: Returns what a copy says of itself; it holds no key, which lies beside.
    """

    url: str
    folder: DataFolder
    facts: Callable[[], BackupFacts]

    def make(self) -> Path:
        """Make one, and remove those that are not worth keeping beside it.

        Raises:
            StorageUnusable: It cannot be made; the others stay.
            FolderError: Their folder cannot be made.
        """
        facts = self.facts()
        made_at = datetime.fromtimestamp((facts.made_at_ms or 0) / 1000, UTC)
        self._make_folder()
        target = self.folder.copies_path / f"{made_at:{_TIME}}.backup"
        back_up(self.url, target, facts)
        self._thin()
        return target

    def _make_folder(self) -> None:
        # Not the folders above: where those are gone, the stick was pulled out.
        try:
            self.folder.copies_path.mkdir(mode=0o700, exist_ok=True)
        except OSError as error:
            raise FolderError(f"{self.folder.copies_path} cannot be made: {error.strerror}.") from error

    def _thin(self) -> None:
        by_time = {_made_at_ms(path): path for path in copies_in(self.folder)}
        for made_at_ms in by_time.keys() - kept(sorted(by_time, reverse=True)):
            by_time[made_at_ms].unlink(missing_ok=True)


def kept(newest_first: Sequence[int]) -> set[int]:
    """Choose the copies to keep, by when they were made: the newest few, then some an hour and a day apart. [ms]."""
    chosen = set(newest_first[:NEWEST])
    for apart_ms, how_many in _SPACED:
        chosen |= _spaced(newest_first, apart_ms, how_many)
    return chosen


def copies_in(folder: DataFolder) -> list[Path]:
    """Return the copies of a data folder, the newest first; those that were named by hand are not among them."""
    if not folder.copies_path.is_dir():
        return []
    found = [path for path in folder.copies_path.iterdir() if _NAME.fullmatch(path.name)]
    return sorted(found, reverse=True)


def require_not_behind(path: Path, folder: DataFolder) -> None:
    """Refuse a database that holds less of a show than its newest copy does, or nothing at all.

    A database that was put back from a copy may well hold less than the copies that were made before.

    Raises:
        DatabaseDamaged: What it lacks.
    """
    log_is_there = log_of(path).exists()
    # Read before the database, which somebody may serve: what is stored between them makes none of them behind.
    newest = next(((copy, kept) for copy in copies_in(folder) if (kept := _Held.of(copy)) is not None), None)
    held = _Held.of(path)
    if held is None:
        return  # what cannot be read is judged when it is opened
    if held.is_empty and not log_is_there:
        raise DatabaseDamaged(
            f"The database {path} holds nothing, as if it had been copied without the file beside it that ends"
            " in -wal: put that file beside it, put the database back from a copy, or remove it to begin anew."
        )
    if newest is not None:
        copy, kept = newest
        _require_all_of(kept, held, path, copy)


def _require_all_of(kept: "_Held", held: "_Held", path: Path, copy: Path) -> None:
    if kept.epoch != held.epoch:
        return
    for show_id, (name, head) in kept.shows.items():
        _, has = held.shows.get(show_id, ("", 0))
        if has < head:
            raise DatabaseDamaged(
                f"The database {path} is behind its newest copy: of the show {name or show_id} it holds {has}"
                f" entries, and {copy.name} holds {head}. To go on with what is there all the same, move the"
                f" folder {copy.parent} away."
            )


@dataclass(frozen=True, slots=True)
class _Held:
    """What a database or a copy holds: of each show its name and how many entries."""

    shows: Mapping[str, tuple[str, int]]
    epoch: str
    is_empty: bool

    @classmethod
    def of(cls, path: Path) -> "_Held | None":
        """Read it; None if it cannot be read, or holds no tables."""
        try:
            with closing(connect(path, READING)) as connection:
                found = connection.execute("SELECT id, name, head FROM shows").fetchall()
                settings = dict(connection.execute("SELECT name, value FROM settings").fetchall())
                bands = connection.execute("SELECT count(*) FROM bands").fetchone()[0]
        except sqlite3.Error:
            return None
        shows = {show_id: (name, head) for show_id, name, head in found}
        return cls(shows, settings.get(EPOCH, FIRST_EPOCH), is_empty=not (shows or settings or bands))


def _spaced(newest_first: Sequence[int], apart_ms: int, how_many: int) -> set[int]:
    """Take the oldest copy of each stretch of time, for the stretches that are the latest to hold one."""
    oldest_of = {made_at_ms // apart_ms: made_at_ms for made_at_ms in newest_first}
    latest = sorted(oldest_of, reverse=True)[:how_many]
    return {oldest_of[stretch] for stretch in latest}


def _made_at_ms(path: Path) -> int:
    made_at = datetime.strptime(path.stem, _TIME).replace(tzinfo=UTC)
    return round(made_at.timestamp() * 1000)
