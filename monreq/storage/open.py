"""Opens a database: makes it or judges it, brings it up to date, and puts the parts together."""

from dataclasses import dataclass
from functools import partial
from pathlib import Path

from sqlalchemy import URL, Engine, make_url
from sqlalchemy.exc import SQLAlchemyError

from monreq.config import AsyncMode
from monreq.services.ports import StorageFailed
from monreq.services.tokens import fingerprint_of
from monreq.storage import engine, sqlite_file
from monreq.storage.bands import SqlBandShelf
from monreq.storage.codec import KINDS, NEWER
from monreq.storage.failures import StorageUnusable, reported, sentence
from monreq.storage.log import SqlShowLog
from monreq.storage.migrate import migrate, require_current, require_known, schema_is_current
from monreq.storage.same_file import SameFile, commit_only_to
from monreq.storage.settings import EPOCH, FIRST_EPOCH, KEY, PUT_BACK, InstallationSettings
from monreq.storage.writers import ClosableWriter, DirectWriter, thread_writer


@dataclass(frozen=True)
class Storage:
    """An open database.

    Attributes:
        log: The log of every show.
        writer: What runs the log's writing.
        bands: The bands and their kept mixes.
        settings: What holds for the whole installation.
    """

    log: SqlShowLog
    bands: SqlBandShelf
    writer: ClosableWriter
    settings: InstallationSettings
    _writing: Engine
    _reading: Engine
    _epoch: str
    _same_file: SameFile | None = None

    def look(self) -> None:
        """Find out whether the database can still be read where it was.

        Raises:
            StorageFailed: Why not; also where it is not what was opened any more.
        """
        if self._same_file is not None:
            try:
                self._same_file.require()
            except StorageFailed:
                self.fold_in()  # into the file that was opened, wherever it is now: a log that is gone ends with us
                raise
        if (self.settings.get(EPOCH) or FIRST_EPOCH) != self._epoch:
            raise StorageFailed(PUT_BACK)
        with reported():
            is_current = schema_is_current(self._reading)
        if not is_current or self.log.has_met_unknown:
            raise StorageFailed(NEWER)

    def require_key(self, key: bytes, path: Path, *, claims: bool) -> None:
        """Refuse a key that is not the one of a server's database: codes of one worker would be dead at another.

        Args:
            key: The key of the folder.
            path: Where it lies.
            claims: Whether it is the database's from now on, where that has none yet.

        Raises:
            StorageUnusable: It is another.
            StorageFailed: It cannot be told.
        """
        if self._writing.dialect.name == "sqlite":
            return
        own = fingerprint_of(key)
        kept = self.settings.keep(KEY, own) if claims else self.settings.get(KEY)
        if kept not in (None, own):
            raise StorageUnusable(
                f"The key {path} is not the one that this database's codes are made with, and its codes would open"
                " nothing elsewhere: put the key of the other workers, or of the last restore, in its place, where"
                " monreq@.service is used at /etc/monreq/key, and start again. If that key is lost, back the database"
                " up without a key, restore that, and print all codes again."
            )

    def fold_in(self) -> bool:
        """Have a SQLite file hold by itself all that was stored, for whoever copies it by hand; whether it does."""
        return self._same_file is None or self.writer.run(lambda: engine.fold_in(self._writing))

    def close(self) -> None:
        """Close it; what is being written is waited for."""
        self._reading.dispose()
        # A SQLite connection is closed where it was made, and as the last one, which leaves a single file.
        self.writer.run(self._writing.dispose)
        self.writer.close()


def open_storage(url: str, async_mode: AsyncMode, *, may_write: bool) -> Storage:
    """Open a database.

    Args:
        url: An SQLAlchemy URL, SQLite or PostgreSQL.
        async_mode: What runs the requests.
        may_write: Makes and updates the database where needed; else it is only read, beside whoever writes.

    Raises:
        StorageUnusable: Why not, in a sentence.
    """
    parsed = make_url(url)
    path = engine.sqlite_path(parsed)
    try:
        if path is not None:
            return _open_sqlite(path, async_mode, may_write=may_write)
        return _open_postgres(parsed, may_write=may_write)
    except SQLAlchemyError as error:
        shown = parsed.render_as_string(hide_password=True)
        raise StorageUnusable(f"{sentence(error).removesuffix('.')}: {shown}.") from error


def _open_sqlite(path: Path, async_mode: AsyncMode, *, may_write: bool) -> Storage:
    if not may_write:
        return _open_sqlite_for_reading(path)
    if path.exists():
        sqlite_file.check_file(path)
        _require_tables(path)
        _migrate_file(path)
    else:
        sqlite_file.require_no_log(path)
        sqlite_file.make_file(path, _migrate_file)
    writing, writer = engine.sqlite_writer(path), thread_writer(async_mode)
    writer.run(lambda: engine.fold_in(writing))  # which also makes its write-ahead log, if there was none
    same = SameFile(path)
    commit_only_to(same, writing)
    return _storage(writing, engine.sqlite_reader(path), writer, same)


def _require_tables(path: Path) -> None:
    looking = engine.sqlite_reader(path)
    try:
        require_known(looking)
    finally:
        looking.dispose()


def _open_sqlite_for_reading(path: Path) -> Storage:
    sqlite_file.check_file(path)
    reading = _current(engine.sqlite_reader(path))
    return _storage(reading, reading, DirectWriter())


def _open_postgres(url: URL, *, may_write: bool) -> Storage:
    if may_write:
        migrate(engine.postgres_migrator(url), copy_first=_leave_copying_to_the_server)
    writing = _current(engine.postgres(url, may_write=may_write))
    return _storage(writing, engine.statement_by_statement(writing), DirectWriter())


def _storage(
    writing: Engine, reading: Engine, writer: ClosableWriter, same: SameFile | None = None
) -> Storage:
    log, settings = SqlShowLog(writing, reading), InstallationSettings(writing, reading, writer)
    _require_known_kinds(log)
    epoch = settings.get(EPOCH) or FIRST_EPOCH
    return Storage(log, SqlBandShelf(writing, reading), writer, settings, writing, reading, epoch, same)


def _require_known_kinds(log: SqlShowLog) -> None:
    unknown = log.kinds() - KINDS.keys()
    if unknown:
        raise StorageUnusable(
            f"The database holds what a newer monreq stored ({', '.join(sorted(unknown))}): install that version again."
        )


def _current(opened: Engine) -> Engine:
    try:
        require_current(opened)
    except (StorageUnusable, SQLAlchemyError):
        opened.dispose()
        raise
    return opened


def _migrate_file(path: Path) -> None:
    migrate(engine.sqlite_migrator(path), copy_first=partial(_copy_before, path))


def _copy_before(path: Path, version: str) -> None:
    sqlite_file.copy_file(path, path.with_name(f"{path.name}.before-update-from-{version}"))


def _leave_copying_to_the_server(_version: str) -> None:
    """A PostgreSQL database is backed up by whoever runs it, and the update is one transaction."""
