"""Puts a database back from a backup: checked first, the old one kept beside it."""

import sqlite3
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import URL, Engine, func, make_url, select
from sqlalchemy.exc import SQLAlchemyError

from monreq.services.tokens import fingerprint_of
from monreq.storage import backup, engine, sqlite_file
from monreq.storage.backup_file import BackupFacts, make_plain, read_backup
from monreq.storage.failures import StorageUnusable, sentence
from monreq.storage.folder import DataFolder, write_key
from monreq.storage.migrate import migrate, require_known
from monreq.storage.settings import renew_epoch, renew_key
from monreq.storage.tables import metadata, shows


class AlreadyThere(StorageUnusable):
    """There is a database already, and nobody said that it may be replaced."""


@dataclass(frozen=True, slots=True)
class Restoring:
    """Where a backup is put back.

    Attributes:
        url: The database.
        folder: The data folder, which exists and is held.
        may_replace: Whether a database that is there is put aside.
        aside: What is added to the name of what is put aside.
        epoch: A new one, for what is put back.
    """

    url: str
    folder: DataFolder
    may_replace: bool
    aside: str
    epoch: str

    def restore(self, source: Path, facts: BackupFacts) -> list[Path]:
        """Put a checked backup back, and return what was put aside.

        Raises:
            AlreadyThere: There is something that may not be replaced.
            StorageUnusable: It cannot be put back; what was there is there still.
            FolderError: The key that the folder has cannot be used; what was there is there still.
        """
        unfinished = self.folder.path / "restoring"
        try:
            sqlite_file.copy_file(source, unfinished)
            make_plain(unfinished)
            migrate(engine.sqlite_migrator(unfinished), copy_first=lambda _version: None)
            renew_epoch(unfinished, self.epoch)
            renew_key(unfinished, self._fingerprint(facts))
            sqlite_file.close_log(unfinished)
            put_aside = self._put_in_place(unfinished) + self._put_key(facts)
            self.folder.unfinished_restore_path.unlink(missing_ok=True)
            sqlite_file.sync_folder(self.folder.path)
            return put_aside
        except (OSError, sqlite3.Error) as error:
            raise StorageUnusable(f"The backup {source} cannot be put back: {error}.") from error
        except SQLAlchemyError as error:
            raise StorageUnusable(f"The backup {source} cannot be put back: {sentence(error)}") from error
        finally:
            sqlite_file.remove(unfinished)

    def _fingerprint(self, facts: BackupFacts) -> str | None:
        """Return which key a server's database will go by; a file is served by one process with one key."""
        if engine.file_of(self.url) is not None:
            return None
        if facts.key is None and not self.folder.key_path.exists():
            return None
        return fingerprint_of(facts.key or self.folder.read_key())

    def _put_in_place(self, unfinished: Path) -> list[Path]:
        parsed = make_url(self.url)
        path = engine.sqlite_path(parsed)
        if path is None:
            return self._into_server(unfinished, parsed)
        return self._into_file(unfinished, path)

    def _into_file(self, unfinished: Path, path: Path) -> list[Path]:
        if path.exists():
            self._refuse_unless_replacing(str(path))
        self.folder.unfinished_restore_path.touch(mode=0o600)
        put_aside = sqlite_file.move_aside(path, self.aside)
        unfinished.replace(path)
        sqlite_file.sync_folder(path.parent)
        return put_aside

    def _into_server(self, unfinished: Path, url: URL) -> list[Path]:
        migrate(engine.postgres_migrator(url), copy_first=lambda _version: None)
        target, source = engine.postgres(url), engine.sqlite_reader(unfinished)
        put_aside = []
        try:
            if _holds_shows(target):
                self._refuse_unless_replacing("the database")
                put_aside = [self.folder.path / f"database.{self.aside}"]
                backup.back_up(self.url, put_aside[0], BackupFacts(made_at_ms=0))
            self.folder.unfinished_restore_path.touch(mode=0o600)
            _replace_rows(source, target)
        finally:
            target.dispose()
            source.dispose()
        return put_aside

    def _put_key(self, facts: BackupFacts) -> list[Path]:
        path = self.folder.key_path
        if facts.key is None or (path.exists() and self._has_key(facts.key)):
            return []
        put_aside = []
        if path.exists():
            put_aside = [path.with_name(f"key.{self.aside}")]
            write_key(put_aside[0], path.read_text("ascii"))
        write_key(path, facts.key.hex() + "\n")
        return put_aside

    def _has_key(self, key: bytes) -> bool:
        return self.folder.key_path.read_bytes().strip() == key.hex().encode("ascii")

    def _refuse_unless_replacing(self, what: str) -> None:
        if not self.may_replace:
            raise AlreadyThere(f"There are shows in {what} already: say --replace, which keeps them beside.")


def check_backup(path: Path) -> BackupFacts:
    """Look at a backup before anything is touched.

    Raises:
        StorageUnusable: It is missing, damaged, no backup, or from a newer monreq.
    """
    facts = read_backup(path)
    reading = engine.sqlite_reader(path)
    try:
        require_known(reading)
    finally:
        reading.dispose()
    return facts


def _holds_shows(target: Engine) -> bool:
    with target.connect() as connection:
        return bool(connection.scalar(select(func.count()).select_from(shows)))


def _replace_rows(source: Engine, target: Engine) -> None:
    with source.connect() as reading, target.begin() as writing:
        for table in reversed(metadata.sorted_tables):
            writing.execute(table.delete())
        backup.copy_rows_between(reading, writing)
