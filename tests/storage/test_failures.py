"""What the database's errors come to: one sentence, nothing stored, and it goes on."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import create_engine, make_url, text
from sqlalchemy.pool import NullPool

from monreq.services.ports import StorageFailed
from monreq.storage import engine
from monreq.storage.open import Storage, open_storage
from tests.support.databases import postgres_url, sqlite_url


@pytest.fixture
def on_sqlite(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Storage]:
    monkeypatch.setattr(engine, "_BUSY_S", 0.05)  # nobody is going to be in time
    opened = open_storage(sqlite_url(tmp_path), "threading", may_write=True)
    yield opened
    opened.close()


@pytest.fixture
def postgres_at() -> Iterator[str]:
    with postgres_url() as url:
        yield url


@pytest.fixture
def on_postgres(postgres_at: str) -> Iterator[Storage]:
    opened = open_storage(postgres_at, "threading", may_write=True)
    yield opened
    opened.close()


def test_database_held_by_another_program_is_busy_until_it_lets_go(
    on_sqlite: Storage, tmp_path: Path
) -> None:
    with closing(sqlite3.connect(tmp_path / "monreq.sqlite", isolation_level=None)) as another:
        another.execute("BEGIN IMMEDIATE")
        with pytest.raises(StorageFailed, match=r"^The database is busy\.$"):
            on_sqlite.settings.put("wifi_name", "Stage")
        assert on_sqlite.settings.get("wifi_name") is None

    on_sqlite.settings.put("wifi_name", "Stage")
    assert on_sqlite.settings.get("wifi_name") == "Stage"


def test_database_opened_for_reading_refuses_to_write(on_sqlite: Storage, tmp_path: Path) -> None:
    on_sqlite.settings.put("wifi_name", "Stage")
    reading = open_storage(sqlite_url(tmp_path), "threading", may_write=False)

    with pytest.raises(StorageFailed, match=r"^The database cannot be written to\.$"):
        reading.settings.put("wifi_name", "Other")

    assert reading.settings.get("wifi_name") == "Stage"
    reading.close()


def test_database_that_is_damaged_while_running_is_named(on_sqlite: Storage, tmp_path: Path) -> None:
    on_sqlite.settings.put("wifi_name", "Stage")
    path = tmp_path / "monreq.sqlite"
    (tmp_path / "monreq.sqlite-wal").write_bytes(b"")
    path.write_bytes(b"\xa5" * path.stat().st_size)

    with pytest.raises(StorageFailed, match=r"^The database is damaged\.$") as failure:
        on_sqlite.settings.get("wifi_name")

    assert isinstance(failure.value.__cause__, Exception)


@pytest.mark.postgres
def test_database_that_cut_the_connection_is_used_again(on_postgres: Storage, postgres_at: str) -> None:
    on_postgres.writer.run(lambda: on_postgres.log.create("show1", 5))

    def job() -> None:
        with on_postgres.log.hold("show1") as held:
            _cut_connections(postgres_at)
            held.find("front", "once")

    with pytest.raises(StorageFailed, match=r"^The connection to the database was lost\.$"):
        on_postgres.writer.run(job)

    on_postgres.settings.put("wifi_name", "Stage")
    assert on_postgres.settings.get("wifi_name") == "Stage"


@pytest.mark.postgres
def test_database_that_was_opened_for_reading_refuses_to_write(
    on_postgres: Storage, postgres_at: str
) -> None:
    on_postgres.settings.put("wifi_name", "Stage")
    reading = open_storage(postgres_at, "threading", may_write=False)

    with pytest.raises(StorageFailed, match=r"^The database cannot be written to\.$"):
        reading.settings.put("wifi_name", "Other")

    assert reading.settings.get("wifi_name") == "Stage"
    reading.close()


def _cut_connections(url: str) -> None:
    """End the connections that are in a transaction of this test's schema."""
    schema = str(make_url(url).query["options"]).partition("=")[2]
    ask = text(
        "SELECT pg_terminate_backend(pid, 5000) FROM pg_locks"
        " WHERE relation = (:schema || '.shows')::regclass AND pid <> pg_backend_pid()"
    )
    with create_engine(url, poolclass=NullPool).connect() as connection:
        assert connection.scalars(ask, {"schema": schema}).all() != []
