"""A backup is not put back into a database that is being served, whichever folder the command is given."""

from pathlib import Path

import pytest

from monreq.cli import demo_show
from tests.support.databases import BOTH, database_url
from tests.support.monreq_process import monreq, serving

pytestmark = pytest.mark.faults

MIXES = len(demo_show.MIXES)


@pytest.mark.parametrize("kind", BOTH)
def test_restore_waits_until_nobody_serves_the_database(kind: str, tmp_path: Path) -> None:
    stick = tmp_path / "tonight.backup"
    (tmp_path / "elsewhere").mkdir()
    with database_url(kind, tmp_path / "elsewhere") as url:
        with serving("demo", tmp_path / "one", MIXES, "--still", MONREQ_DATABASE_URL=url) as served:
            made = monreq("backup", stick, "--data", tmp_path / "one", MONREQ_DATABASE_URL=url)
            words = ("restore", stick, "--replace", "--data", tmp_path / "two")
            refused = monreq(*words, MONREQ_DATABASE_URL=url)
            known = served.read("/queue")["revision"]
            served.stop()
        restored = monreq(*words, MONREQ_DATABASE_URL=url)
        with serving("demo", tmp_path / "one", MIXES, "--still", MONREQ_DATABASE_URL=url) as served:
            again = served.read("/queue")["revision"]

    assert made.code == 0, made.errors
    assert (refused.code, refused.errors.count("\n")) == (1, 1)
    assert "this database" in refused.errors
    assert (restored.code, restored.errors) == (0, "")
    assert again == known
