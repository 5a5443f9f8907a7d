"""Databases of every schema that was released, with what they hold: they must open for ever."""

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path

import pytest
from alembic.script import ScriptDirectory

from monreq import paths
from monreq.domain.events import Recorded
from monreq.domain.fold import fold
from monreq.domain.show import Show
from monreq.services.shows import Shows
from monreq.storage.codec import decode
from monreq.storage.open import open_storage
from tests.support.databases import sqlite_url
from tests.support.keep_schema import SCHEMAS

SHOW = "show1"
VERSIONS = sorted(one.revision for one in ScriptDirectory(str(paths.migrations_dir())).walk_revisions())


@pytest.fixture(params=VERSIONS)
def kept(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A database file as that version left it."""
    path = tmp_path / "monreq.sqlite"
    sql = (SCHEMAS / f"{request.param}.sql").read_text(encoding="utf-8")
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(sql)
    return path


def rows_of(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Return every row of every table that a person's data is in."""
    with closing(sqlite3.connect(path)) as connection:
        tables = [
            str(name)
            for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            if name != "alembic_version"
        ]
        return {table: sorted(connection.execute(f"SELECT * FROM {table}"), key=repr) for table in tables}  # noqa: S608 - its own names


def test_every_schema_was_kept() -> None:
    assert sorted(path.stem for path in SCHEMAS.glob("*.sql")) == VERSIONS


def test_database_of_an_earlier_schema_opens_with_all_it_held(kept: Path) -> None:
    before = rows_of(kept)
    log = _in_order(
        Recorded(int(str(revision)), int(str(at_ms)), str(by), decode(str(kind), str(body)))
        for show, revision, at_ms, by, kind, body in before["events"]
        if show == SHOW
    )

    storage = open_storage(sqlite_url(kept.parent), "threading", may_write=True)
    show = Shows(storage.log, storage.writer, lambda: 0, lambda _: None).state(SHOW)
    wifi = storage.settings.get("wifi_network")
    storage.close()

    after = rows_of(kept)
    assert {table: len(after[table]) for table in before} == {
        table: len(rows) for table, rows in before.items()
    }
    assert after["events"] == before["events"]
    assert show == fold(Show(SHOW), log)
    assert (show.name, len(show.mixes), len(show.decisions), len(show.open_requests)) == ("Evening", 3, 2, 1)
    assert show.revision == len(log) > 50
    assert (len(before["submissions"]), wifi) == (3, "Stage")


def _in_order(log: Iterable[Recorded]) -> list[Recorded]:
    return sorted(log, key=lambda one: one.revision)


def test_copy_that_an_update_made_is_the_way_back(kept: Path) -> None:
    before = rows_of(kept)
    with closing(sqlite3.connect(kept)) as connection:
        (version,) = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    open_storage(sqlite_url(kept.parent), "threading", may_write=True).close()
    copy = kept.with_name(f"monreq.sqlite.before-update-from-{version}")
    if version == VERSIONS[-1]:
        assert not copy.exists()
        return
    kept.rename(kept.with_name("newer"))
    copy.rename(kept)

    with closing(sqlite3.connect(kept)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchall() == [(version,)]
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert rows_of(kept) == before
