"""A restore that is killed before any of its steps: nothing starts on what it left, and the same restore works again."""

import re
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import pytest

from monreq.cli.backup import facts
from monreq.storage.backup import back_up
from monreq.storage.folder import DataFolder
from tests.support.databases import sqlite_url
from tests.support.killed_restores import KILLED
from tests.support.monreq_process import ROOT, Ended
from tests.support.started_commands import Command, show_on

pytestmark = [
    pytest.mark.faults,
    pytest.mark.skipif(sys.platform == "win32", reason="no processes are forked there"),
]

MORE_THAN_IT_TAKES = 60


@dataclass(frozen=True)
class Laptops:
    """Folders with Saturday's show each, whose server was killed, and a backup of Friday's with another key."""

    backup: Path
    folders: list[Path]


def show_names(folder: Path) -> list[str]:
    with closing(sqlite3.connect(folder / "monreq.sqlite")) as connection:
        return [name for (name,) in connection.execute("SELECT name FROM shows")]


def key_in(folder: Path) -> str:
    return (folder / "key").read_text("ascii")


def leave_killed(folder: Path) -> None:
    """Have the newest of what a folder's database holds be in its log alone, as a killed server leaves it."""
    path, living = folder / "monreq.sqlite", folder.with_name("living")
    shutil.copytree(folder, living)
    with closing(sqlite3.connect(living / path.name)) as connection:
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute("UPDATE shows SET name = 'Saturday'")
        connection.commit()
        for part in living.glob("monreq.sqlite*"):
            shutil.copy(part, folder)
    shutil.rmtree(living)


@pytest.fixture
def laptops(tmp_path: Path) -> Laptops:
    friday, saturday = tmp_path / "friday", tmp_path / "saturday"
    show_on(friday, "Friday")
    backup = tmp_path / "friday.backup"
    back_up(sqlite_url(friday), backup, facts(DataFolder(friday).read_key()))
    show_on(saturday, "Saturday, prepared")
    leave_killed(saturday)
    folders = [tmp_path / f"killed-{number}" for number in range(MORE_THAN_IT_TAKES)]
    for folder in folders:
        shutil.copytree(saturday, folder)
    return Laptops(backup, folders)


def restore_all(laptops: Laptops) -> list[Path]:
    """Have a restore of each folder killed one step later than the one before; returns those that were."""
    command = [sys.executable, "-m", "tests.support.killed_restores", laptops.backup, *laptops.folders]
    done = subprocess.run([*map(str, command)], cwd=ROOT, capture_output=True, text=True, check=True)
    *killed, through = done.stdout.splitlines()
    assert through.endswith(" 0"), done
    assert all(line.endswith(f" {KILLED}") for line in killed)
    return laptops.folders[: len(killed)]


def serve(here: Command, folder: Path) -> Ended:
    return here("serve", "--data", folder, "--host", "127.0.0.1", "--port", "0", "--no-browser")


def aside(folder: Path) -> set[str]:
    """Return the shows in the databases that were put aside."""
    found = (
        one for one in folder.iterdir() if re.fullmatch(r"monreq\.sqlite\.before-restore-[0-9-]+", one.name)
    )
    names = set()
    for one in found:
        with closing(sqlite3.connect(one)) as connection:
            names |= {name for (name,) in connection.execute("SELECT name FROM shows")}
    return names


def test_restore_killed_at_any_step_works_again_and_keeps_what_was_there(
    laptops: Laptops, here: Command
) -> None:
    killed = restore_all(laptops)
    friday = laptops.backup.with_name("friday")

    again = [here("restore", laptops.backup, "--replace", "--data", folder) for folder in killed]

    assert len(killed) >= 5
    assert [one.code for one in again] == [0] * len(killed)
    assert [show_names(folder) for folder in killed] == [["Friday"]] * len(killed)
    assert [key_in(folder) for folder in killed] == [key_in(friday)] * len(killed)
    assert ["Saturday" in aside(folder) for folder in killed] == [True] * len(killed)


def test_nothing_is_served_from_a_half_restored_folder(laptops: Laptops, here: Command) -> None:
    before, after = laptops.folders[-1], laptops.backup.with_name("friday")
    killed = restore_all(laptops)

    half = [folder for folder in killed if (folder / "restore-unfinished").exists()]
    rest = [folder for folder in killed if folder not in half]
    refused = [serve(here, folder) for folder in half]

    assert len(half) >= 3
    assert [one.code for one in refused] == [1] * len(half)
    assert all("was ended before it was finished: run monreq restore again" in one.errors for one in refused)
    whole = [(show_names(folder), key_in(folder)) for folder in (before, after)]
    assert [folder for folder in rest if (show_names(folder), key_in(folder)) not in whole] == []


def test_restore_beside_the_log_of_a_database_that_is_gone_puts_the_log_aside(
    laptops: Laptops, here: Command
) -> None:
    folder = laptops.folders[0]
    (folder / "monreq.sqlite").unlink()

    restored = here("restore", laptops.backup, "--data", folder)

    assert restored.code == 0
    assert show_names(folder) == ["Friday"]
    with closing(sqlite3.connect(folder / "monreq.sqlite")) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert len([*folder.glob("monreq.sqlite.before-restore-*-wal")]) == 1
