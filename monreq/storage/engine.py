"""Connections: how SQLite and PostgreSQL are set up so that what was committed stays."""

import sqlite3
from collections.abc import Callable, Sequence
from contextlib import closing, suppress
from pathlib import Path
from typing import Final

from sqlalchemy import (
    URL,
    Connection,
    Engine,
    NullPool,
    QueuePool,
    StaticPool,
    create_engine,
    event,
    make_url,
)

APPLICATION_ID: Final = 0x6D726571
"""Marks a SQLite file as one of monreq's: "mreq" in ASCII."""

_BUSY_S: Final = 5.0  # chosen: longer than any commit, shorter than a person's patience
_READERS: Final = 16  # chosen: reads take a fraction of a millisecond, more would only wait for the processor
_SAFE: Final = ("trusted_schema=OFF", "cell_size_check=ON")
READING: Final = (*_SAFE, "wal_autocheckpoint=0", "query_only=ON")
"""How a connection is set up that never changes the database, nor moves its write-ahead log."""
_WRITING: Final = (
    *_SAFE,
    "journal_mode=WAL",
    "synchronous=FULL",
    "fullfsync=ON",  # macOS empties the disk's own cache only when told so; no other system looks at it
    "checkpoint_fullfsync=ON",
)
_POSTGRES_OPTIONS: Final = (
    "synchronous_commit=on",
    "lock_timeout=5s",  # chosen: as _BUSY_S
    "idle_in_transaction_session_timeout=15s",  # chosen: a worker that hangs must not hold a show for ever
)


def sqlite_path(url: URL) -> Path | None:
    """Return the file of a SQLite URL; None for another database."""
    if url.get_backend_name() != "sqlite":
        return None
    return Path(url.database or "").absolute()


def file_of(url: str) -> Path | None:
    """Return the file that a URL leads to; None for a database that is no file."""
    return sqlite_path(make_url(url))


def connect(path: Path, pragmas: Sequence[str] = _SAFE, *, any_thread: bool = False) -> sqlite3.Connection:
    """Open a SQLite file that exists; transactions are begun and ended by whoever uses it."""
    connection = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode=rw",
        uri=True,
        timeout=_BUSY_S,
        isolation_level=None,
        check_same_thread=not any_thread,
    )
    try:
        for pragma in pragmas:
            connection.execute(f"PRAGMA {pragma}")
    except sqlite3.Error:
        connection.close()
        raise
    return connection


def sqlite_writer(path: Path) -> Engine:
    """Return the engine that writes: one connection, which belongs to the thread that first uses it."""
    return _sqlite(lambda: connect(path, (*_WRITING, "foreign_keys=ON")), StaticPool, begin="BEGIN IMMEDIATE")


def fold_in(writing: Engine) -> bool:
    """Put what the write-ahead log holds into the file itself, on the thread that writes; whether all of it is.

    It disturbs nobody; what somebody still reads in the log, or what finds no room, is left for the next time.
    """
    with suppress(sqlite3.Error), closing(writing.raw_connection()) as connection:
        _, in_log, folded = connection.cursor().execute("PRAGMA wal_checkpoint(PASSIVE)").fetchone()
        return bool(in_log == folded)
    return False


def sqlite_reader(path: Path) -> Engine:
    """Return the engine that reads, from any thread; each of its statements is a transaction."""
    return create_engine(
        "sqlite://",
        creator=lambda: connect(path, READING, any_thread=True),
        poolclass=QueuePool,
        pool_size=_READERS,
        max_overflow=0,
        pool_reset_on_return=None,
        isolation_level="AUTOCOMMIT",
    )


def sqlite_migrator(path: Path) -> Engine:
    """Return the engine that migrates.

    It checks no foreign keys: Alembic replaces a whole table, and a cascade would empty those that refer to it.
    """
    return _sqlite(lambda: connect(path, (*_WRITING, "foreign_keys=OFF")), NullPool, begin="BEGIN IMMEDIATE")


def postgres(url: URL, *, may_write: bool = True) -> Engine:
    """Return the engine for a PostgreSQL database."""
    read_only = () if may_write else ("default_transaction_read_only=on",)
    return create_engine(
        _with_options(url, (*_POSTGRES_OPTIONS, *read_only)),
        pool_pre_ping=True,
        pool_size=10,
        max_overflow=10,
        connect_args={"connect_timeout": int(_BUSY_S)},
    )


def postgres_migrator(url: URL) -> Engine:
    """Return the engine that migrates; it waits as long as another process migrates."""
    return create_engine(url, poolclass=NullPool, connect_args={"connect_timeout": int(_BUSY_S)})


def statement_by_statement(engine: Engine) -> Engine:
    """Return the same engine for reading: each of its statements is a transaction."""
    return engine.execution_options(isolation_level="AUTOCOMMIT")


def _with_options(url: URL, options: Sequence[str]) -> URL:
    given = url.query.get("options", "")
    ours = " ".join(f"-c {option}" for option in options)
    return url.update_query_dict({"options": f"{ours} {given}".strip()})


# SQLAlchemy's own BEGIN would be a deferred one, which fails when it first writes after somebody else did.
def _sqlite(
    creator: Callable[[], sqlite3.Connection], poolclass: type[StaticPool | NullPool], *, begin: str
) -> Engine:
    engine = create_engine("sqlite://", creator=creator, poolclass=poolclass)

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    return engine
