"""Bringing an old database up to date: nothing is lost, a failure leaves it as it was, a newer one is refused."""

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect, make_url

from monreq import paths
from monreq.services.shows import Shows
from monreq.storage import migrate
from monreq.storage.engine import postgres_migrator, sqlite_migrator, sqlite_path
from monreq.storage.failures import StorageUnusable
from monreq.storage.open import Storage, open_storage
from monreq.storage.tables import metadata
from tests.support.submitting import open_show, submit
from tests.support.threads import all_at_once

SHOW = "show1"

HEAD = ScriptDirectory(str(paths.migrations_dir())).get_current_head()
REBUILDS_SHOWS = f'''
"""Replaces the table that all others refer to."""

import sqlalchemy as sa
from alembic import op

revision = "9999"
down_revision = "{HEAD}"


def upgrade() -> None:
    with op.batch_alter_table("shows", recreate="auto") as shows:
        shows.add_column(sa.Column("venue", sa.Text, nullable=False, server_default=""))
        shows.alter_column("name", type_=sa.String(60))
'''

FAILS_HALFWAY = f"""{REBUILDS_SHOWS}
    raise ZeroDivisionError
"""


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Return a function that makes this program a later one, with one more migration."""

    def become(migration: str) -> None:
        folder = tmp_path / "migrations"
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(paths.migrations_dir(), folder, ignore=shutil.ignore_patterns("__pycache__"))
        (folder / "versions" / "9999_later.py").write_text(migration, encoding="utf-8")
        monkeypatch.setattr(migrate, "migrations_dir", lambda: folder)

    return become


def opened(url: str, *, may_write: bool = True) -> Storage:
    return open_storage(url, "threading", may_write=may_write)


def filled(url: str) -> list[object]:
    """Fill a database and return its whole log."""
    storage = opened(url)
    shows = _shows(storage)
    open_show(shows, SHOW)
    for number in range(30):
        submit(shows, SHOW, f"before-{number}")
    log: list[object] = [*storage.log.read_after(SHOW, 0)]
    storage.close()
    return log


def log_of(url: str) -> list[object]:
    storage = opened(url)
    log: list[object] = [*storage.log.read_after(SHOW, 0)]
    storage.close()
    return log


def engine_of(url: str) -> Engine:
    path = sqlite_path(make_url(url))
    return postgres_migrator(make_url(url)) if path is None else sqlite_migrator(path)


def columns_of_shows(url: str) -> set[str]:
    return {column["name"] for column in inspect(engine_of(url)).get_columns("shows")}


def copies(url: str) -> list[str]:
    path = sqlite_path(make_url(url))
    return sorted(one.name for one in path.parent.glob("monreq.sqlite.*")) if path else []


def test_migrations_make_the_tables_that_the_program_uses(url: str) -> None:
    opened(url).close()

    with engine_of(url).connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_server_default": True})
        differences = compare_metadata(context, metadata)

    assert differences == []


def test_schema_is_current_only_once_it_is_made(url: str, programs: Callable[[str], None]) -> None:
    opened(url).close()
    now = migrate.schema_is_current(engine_of(url))

    programs(REBUILDS_SHOWS)

    assert (now, migrate.schema_is_current(engine_of(url))) == (True, False)


def test_upgrade_keeps_every_row(url: str, programs: Callable[[str], None]) -> None:
    before = filled(url)
    programs(REBUILDS_SHOWS)

    assert log_of(url) == before
    assert "venue" in columns_of_shows(url)
    storage = opened(url)
    again = submit(_shows(storage), SHOW, "before-7")
    assert again.is_repeated
    storage.close()


def test_upgrade_that_fails_leaves_all_as_it_was(
    url: str, programs: Callable[[str], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = filled(url)
    programs(FAILS_HALFWAY)
    with pytest.raises(ZeroDivisionError):
        opened(url)

    monkeypatch.undo()

    assert "venue" not in columns_of_shows(url)
    assert migrate.schema_is_current(engine_of(url))
    assert log_of(url) == before


def test_upgrade_of_sqlite_is_preceded_by_a_copy(
    sqlite: str, programs: Callable[[str], None], tmp_path: Path
) -> None:
    before = filled(sqlite)
    programs(REBUILDS_SHOWS)
    opened(sqlite).close()

    assert copies(sqlite) == [f"monreq.sqlite.before-update-from-{HEAD}"]
    with closing(sqlite3.connect(tmp_path / f"monreq.sqlite.before-update-from-{HEAD}")) as copy:
        assert copy.execute("SELECT version_num FROM alembic_version").fetchall() == [(HEAD,)]
        assert copy.execute("SELECT count(*) FROM events").fetchall() == [(len(before),)]
        assert copy.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_start_on_a_current_database_makes_no_copy(sqlite: str) -> None:
    filled(sqlite)
    opened(sqlite).close()

    assert copies(sqlite) == []


def test_database_of_a_newer_program_is_refused(
    url: str, programs: Callable[[str], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    programs(REBUILDS_SHOWS)
    opened(url).close()
    monkeypatch.undo()

    for may_write in (True, False):
        with pytest.raises(StorageUnusable, match="from a newer monreq: install that version again"):
            opened(url, may_write=may_write)

    assert copies(url) == []


def test_database_of_an_earlier_program_is_not_opened_for_reading(
    url: str, programs: Callable[[str], None]
) -> None:
    opened(url).close()
    programs(REBUILDS_SHOWS)

    with pytest.raises(StorageUnusable, match="from an earlier monreq: start monreq serve once"):
        opened(url, may_write=False)

    assert "venue" not in columns_of_shows(url)


@pytest.mark.postgres
def test_upgrade_by_several_processes_at_once_happens_once(
    postgresql: str, programs: Callable[[str], None]
) -> None:
    before = filled(postgresql)
    programs(REBUILDS_SHOWS)

    storages = all_at_once([lambda: opened(postgresql)] * 4)

    assert [type(one) for one in storages] == [Storage] * 4
    for storage in storages:
        assert isinstance(storage, Storage)
        storage.close()
    assert log_of(postgresql) == before


def _shows(storage: Storage) -> Shows:
    return Shows(storage.log, storage.writer, lambda: 0, lambda _: None)
