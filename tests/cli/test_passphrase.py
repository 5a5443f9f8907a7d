"""`monreq passphrase`: read from standard input, never an argument, and not beside a running server."""

import subprocess
from pathlib import Path

import pytest

from monreq.storage.folder import DataFolder
from tests.support import evening as evenings
from tests.support.monreq_process import COMMAND, PATIENCE_S, ROOT, serving

pytestmark = pytest.mark.security

GOOD = "violet kettle on the moon"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    begun = evenings.start(tmp_path / "data")
    begun.close()
    return tmp_path / "data"


def passphrase(folder: Path, typed: str, *words: str) -> tuple[str, str, int]:
    done = subprocess.run(
        [*COMMAND, "passphrase", "--data", str(folder), *words],
        cwd=ROOT,
        input=typed,
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE_S,
    )
    return done.stdout, done.stderr, done.returncode


def test_it_is_set_changed_and_removed(folder: Path) -> None:
    ways = [
        passphrase(folder, f"{GOOD}\n"),
        passphrase(folder, "another good one\n"),
        passphrase(folder, "", "--remove"),
    ]

    out = "Every desk is out, and has a new link: monreq token desk.\n"
    assert [told for told, _, _ in ways] == [
        "The passphrase is set.\n",
        f"The passphrase is set.\n{out}",
        f"There is no passphrase any more.\n{out}",
    ]
    assert [(errors, code) for _, errors, code in ways] == [("", 0)] * 3
    assert GOOD.encode() not in b"".join(file.read_bytes() for file in folder.iterdir() if file.is_file())


def test_a_weak_one_is_refused_in_one_line(folder: Path) -> None:
    assert passphrase(folder, "short\n") == ("", "monreq: A passphrase has at least 8 characters.\n", 1)


def test_it_is_no_argument(folder: Path) -> None:
    told, errors, code = passphrase(folder, "", GOOD)

    assert (told, code) == ("", 2)
    assert errors.count("\n") == 1


def test_beside_a_running_server_it_is_refused(tmp_path: Path) -> None:
    with serving("serve", tmp_path / "data", 0) as served:
        told, errors, code = passphrase(served.folder, f"{GOOD}\n")

    assert (told, code) == ("", 1)
    assert errors.startswith("monreq: ")
    assert errors.count("\n") == 1


def test_a_folder_that_is_none_is_told(tmp_path: Path) -> None:
    told, errors, code = passphrase(tmp_path / "nothing", f"{GOOD}\n")

    assert (told, code) == ("", 1)
    assert errors.startswith("monreq: ")
    assert DataFolder(tmp_path / "nothing").is_empty()
