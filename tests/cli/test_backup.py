"""`monreq backup` and `monreq restore`: beside a server, by the same words that a person types."""

from pathlib import Path

import pytest

from tests.support.monreq_process import Served
from tests.support.started_commands import Command, show_on


@pytest.fixture(params=["named in full", "named from here"])
def evening(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "shows"
    show_on(folder, "Friday")
    monkeypatch.chdir(tmp_path)
    return folder if request.param == "named in full" else Path("shows")


def token(here: Command, folder: Path) -> str:
    ended = here("token", "desk", "--data", folder)
    assert ended.code == 0, ended.errors
    return ended.output.strip()


def test_backup_beside_a_server_needs_no_lock(here: Command, demo: Served, tmp_path: Path) -> None:
    ended = here("backup", tmp_path / "tonight.backup", "--data", demo.folder)

    assert (ended.errors, ended.code) == ("", 0)
    assert ended.output == f"Backed up to {tmp_path}/tonight.backup, without its key.\n"


def test_backup_with_its_key_says_what_that_means(here: Command, evening: Path, tmp_path: Path) -> None:
    ended = here("backup", tmp_path / "x.backup", "--with-key", "--data", evening)

    assert "whoever holds it can open every code" in ended.output
    assert "Whoever holds the file can" in here("backup", "--help").output


def test_restore_with_its_key_opens_the_same_codes(here: Command, evening: Path, tmp_path: Path) -> None:
    here("backup", tmp_path / "x.backup", "--with-key", "--data", evening)

    ended = here("restore", tmp_path / "x.backup", "--data", tmp_path / "other")

    assert "Codes that were printed before open their mixes." in ended.output
    assert token(here, tmp_path / "other") == token(here, evening)


def test_restore_without_a_key_says_that_cards_must_be_printed_again(
    here: Command, evening: Path, tmp_path: Path
) -> None:
    here("backup", tmp_path / "x.backup", "--data", evening)

    ended = here("restore", tmp_path / "x.backup", "--data", tmp_path / "other")

    assert "print all codes again" in ended.output
    assert not (tmp_path / "other" / "key").exists()


def test_restore_into_a_folder_with_shows_is_refused_until_told(
    here: Command, evening: Path, tmp_path: Path
) -> None:
    here("backup", tmp_path / "x.backup", "--data", evening)

    refused = here("restore", tmp_path / "x.backup", "--data", evening)
    told = here("restore", tmp_path / "x.backup", "--replace", "--data", evening)

    assert (refused.code, refused.output) == (1, "")
    assert "say --replace, which keeps them beside" in refused.errors
    assert told.code == 0
    assert "What was there is kept:" in told.output
    assert len(list(evening.glob("monreq.sqlite.before-restore-*"))) == 1


def test_backup_is_restored_by_names_from_here(here: Command, evening: Path) -> None:
    backup, other = Path("tonight.backup"), Path("other")
    here("backup", backup, "--with-key", "--data", evening)

    begun = here("restore", backup, "--data", other)
    replaced = here("restore", backup, "--replace", "--data", evening)

    assert (begun.errors, begun.code, replaced.errors, replaced.code) == ("", 0, "", 0)
    assert token(here, other) == token(here, evening)
    assert here("backup", "again.backup", "--data", other).code == 0


def test_restore_while_a_server_runs_is_refused(here: Command, demo: Served, tmp_path: Path) -> None:
    here("backup", tmp_path / "x.backup", "--data", demo.folder)

    ended = here("restore", tmp_path / "x.backup", "--replace", "--data", demo.folder)

    assert ended.code == 1
    assert ended.errors == f"monreq: Another monreq is using this folder: {demo.folder}.\n"


def test_restore_of_something_else_makes_no_folder(here: Command, tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("the set list")

    ended = here("restore", tmp_path / "list.txt", "--data", tmp_path / "other")

    assert (ended.code, ended.output) == (1, "")
    assert ended.errors.count("\n") == 1
    assert not (tmp_path / "other").exists()
