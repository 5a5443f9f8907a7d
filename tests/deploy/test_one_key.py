"""Workers on one database go by one key: another one is refused before it makes a code that opens nothing elsewhere."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.databases import postgres_url
from tests.support.festival import folder_with_key
from tests.support.monreq_process import Ended, monreq, serving

pytestmark = [pytest.mark.faults, pytest.mark.postgres]

KEY, OTHER = bytes(range(32)), bytes(range(1, 33))


@pytest.fixture
def database() -> Iterator[str]:
    """A database that a worker with the first key has served."""
    with postgres_url() as url:
        yield url


def serve_once(folder: Path, database: str) -> None:
    with serving("serve", folder, 0, MONREQ_DATABASE_URL=database) as served:
        served.stop()


def refused(folder: Path, database: str) -> Ended:
    words = ("serve", "--data", folder, "--host", "127.0.0.1", "--port", "0", "--no-browser")
    return monreq(*words, MONREQ_DATABASE_URL=database)


def test_worker_with_another_key_does_not_start_and_says_what_to_do(database: str, tmp_path: Path) -> None:
    one, other = folder_with_key(tmp_path / "one", KEY), folder_with_key(tmp_path / "other", OTHER)
    serve_once(one, database)

    ended = refused(other, database)
    checked = monreq("check", "--data", other, MONREQ_DATABASE_URL=database)
    (other / "key").write_bytes((one / "key").read_bytes())
    serve_once(other, database)

    assert (ended.code, ended.output, ended.errors.count("\n")) == (1, "", 1)
    assert ended.errors.startswith(f"monreq: The key {other}/key is not the one that this database's codes")
    assert "/etc/monreq/key" in ended.errors
    assert f"BAD database: {ended.errors.removeprefix('monreq: ')}" in checked.output


def test_restore_with_a_key_tells_the_other_workers_to_take_it(database: str, tmp_path: Path) -> None:
    one, other = folder_with_key(tmp_path / "one", OTHER), folder_with_key(tmp_path / "other", OTHER)
    before = folder_with_key(tmp_path / "before", KEY)
    stick = tmp_path / "tonight.backup"
    serve_once(one, database)
    with postgres_url() as earlier:
        serve_once(before, earlier)
        monreq("backup", stick, "--with-key", "--data", before, MONREQ_DATABASE_URL=earlier)

    restored = monreq("restore", stick, "--replace", "--data", one, MONREQ_DATABASE_URL=database)
    with_old_key = refused(other, database)
    serve_once(one, database)

    assert (restored.code, restored.errors) == (0, "")
    assert f"Every worker on this database needs the key {one}/key" in restored.output
    assert "/etc/monreq/key" in restored.output
    assert (with_old_key.code, with_old_key.output) == (1, "")


def test_lost_key_is_left_behind_by_a_backup_without_it(database: str, tmp_path: Path) -> None:
    one, anew = folder_with_key(tmp_path / "one", KEY), folder_with_key(tmp_path / "anew", OTHER)
    stick = tmp_path / "tonight.backup"
    serve_once(one, database)

    monreq("backup", stick, "--data", anew, MONREQ_DATABASE_URL=database)
    restored = monreq("restore", stick, "--replace", "--data", anew, MONREQ_DATABASE_URL=database)
    serve_once(anew, database)

    assert (restored.code, restored.errors) == (0, "")
    assert refused(one, database).code == 1
