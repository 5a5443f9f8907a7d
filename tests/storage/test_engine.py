"""Connections are set up so that what was committed stays."""

from pathlib import Path

import pytest
from sqlalchemy import Engine, make_url, text
from sqlalchemy.exc import OperationalError

from monreq.storage.engine import (
    APPLICATION_ID,
    postgres,
    sqlite_migrator,
    sqlite_path,
    sqlite_reader,
    sqlite_writer,
    statement_by_statement,
)
from monreq.storage.open import open_storage
from tests.support.databases import postgres_url, sqlite_url


@pytest.fixture
def path(tmp_path: Path) -> Path:
    open_storage(sqlite_url(tmp_path), "threading", may_write=True).close()
    return tmp_path / "monreq.sqlite"


def asked(engine: Engine, *pragmas: str) -> dict[str, object]:
    with engine.connect() as connection:
        values = {pragma: connection.scalar(text(f"PRAGMA {pragma}")) for pragma in pragmas}
    engine.dispose()
    return values


def test_sqlite_writer_waits_for_the_disk_and_checks_what_it_reads(path: Path) -> None:
    wanted = {
        "journal_mode": "wal",
        "synchronous": 2,
        "fullfsync": 1,
        "foreign_keys": 1,
        "busy_timeout": 5000,
        "trusted_schema": 0,
        "cell_size_check": 1,
        "application_id": APPLICATION_ID,
    }

    assert asked(sqlite_writer(path), *wanted) == wanted


def test_sqlite_reader_neither_writes_nor_checkpoints(path: Path) -> None:
    wanted = {"journal_mode": "wal", "query_only": 1, "wal_autocheckpoint": 0, "trusted_schema": 0}

    assert asked(sqlite_reader(path), *wanted) == wanted


def test_sqlite_migrator_checks_no_foreign_keys(path: Path) -> None:
    wanted = {"foreign_keys": 0, "synchronous": 2}

    assert asked(sqlite_migrator(path), *wanted) == wanted


def test_sqlite_reader_refuses_to_write(path: Path) -> None:
    reader = sqlite_reader(path)

    with reader.connect() as connection, pytest.raises(OperationalError, match="readonly database"):
        connection.execute(text("DELETE FROM shows"))

    reader.dispose()


def test_sqlite_engines_make_no_file(tmp_path: Path) -> None:
    with pytest.raises(OperationalError, match="unable to open database file"):
        sqlite_writer(tmp_path / "missing.sqlite").connect()

    assert list(tmp_path.iterdir()) == []


def test_sqlite_file_may_have_any_name(tmp_path: Path) -> None:
    folder = tmp_path / "Bühne 1 & 50% #2?"
    folder.mkdir()

    open_storage(sqlite_url(folder).replace("?", "%3F"), "threading", may_write=True).close()

    assert [entry.name for entry in tmp_path.iterdir()] == [folder.name]


def test_sqlite_path_is_none_for_another_database() -> None:
    urls = ["sqlite:////data/monreq.sqlite", "postgresql+psycopg://stage@db/monreq"]

    assert [sqlite_path(make_url(url)) for url in urls] == [Path("/data/monreq.sqlite"), None]


@pytest.mark.postgres
def test_postgres_waits_for_the_disk_and_for_nobody_for_ever() -> None:
    wanted = {
        "synchronous_commit": "on",
        "lock_timeout": "5s",
        "idle_in_transaction_session_timeout": "15s",
        "transaction_isolation": "read committed",
    }
    with postgres_url() as url:
        engine = postgres(make_url(url))
        with engine.connect() as connection:
            shown = {name: connection.scalar(text(f"SHOW {name}")) for name in wanted}
        engine.dispose()

    assert shown == wanted


@pytest.mark.postgres
def test_postgres_reads_without_opening_a_transaction() -> None:
    with postgres_url() as url:
        engine = postgres(make_url(url))
        now = text("SELECT pg_current_xact_id()::text")
        with statement_by_statement(engine).connect() as reading:
            apart = reading.scalar(now) != reading.scalar(now)
        with engine.connect() as writing:
            together = writing.scalar(now) == writing.scalar(now)
        engine.dispose()

    assert (apart, together) == (True, True)
