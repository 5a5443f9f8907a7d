"""The walk of docs/another-laptop.md: the laptop dies, another one goes on with the backup, printed codes included."""

import re
from pathlib import Path

import pytest

from monreq.cli import demo_show
from tests.support.monreq_process import ROOT, Served, monreq, serving, token_in

pytestmark = pytest.mark.faults

WALK = (ROOT / "docs" / "another-laptop.md").read_text(encoding="utf-8")
STICK = "/media/stick/tonight.backup"


def words(command: str, stick: Path) -> list[str]:
    """Return the words of the command that the walk names, with another place for the stick."""
    found = re.search(rf"`monreq ({command} {STICK}[^`]*)`", WALK)
    assert found is not None
    return found[1].replace(STICK, str(stick)).split()


def ask(served: Served, link: str, client_id: str) -> int:
    body = {"client_id": client_id, "kind": "level", "source": "kick", "change_db": 1}
    return served.api("/mixes/bass/requests", token_in(link), body).status_code


def test_another_laptop_goes_on_with_the_backup(tmp_path: Path) -> None:
    first, second, stick = tmp_path / "first", tmp_path / "second", tmp_path / "tonight.backup"
    mixes = len(demo_show.MIXES)
    with serving("demo", first, mixes, "--still") as served:
        printed, desk = served.phones["Bass"], served.desk_token
        asked = ask(served, printed, "before-1")
        backed_up = monreq(*words("backup", stick), "--data", first)
        served.process.kill()

    restored = monreq(*words("restore", stick), "--data", second)
    with serving("serve", second, mixes) as served:
        again, fresh = ask(served, printed, "before-1"), ask(served, printed, "after-1")
        waiting = [row["asked"] for row in served.read("/queue", desk)["rows"]]

    assert (backed_up.code, restored.code) == (0, 0), backed_up.errors + restored.errors
    assert (asked, again, fresh) == (201, 200, 201)
    assert waiting == [2]
