"""The data folder on a real disk, and its lock between real processes."""

import os
import stat
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from monreq.storage.folder import DataFolder, FolderBusy, FolderError

SECRET = bytes(range(32))
HOLDER = """
import sys
from pathlib import Path
from monreq.storage.folder import DataFolder
with DataFolder(Path(sys.argv[1])).hold():
    print("held", flush=True)
    sys.stdin.read()
"""
needs_modes = pytest.mark.skipif(os.name != "posix", reason="file modes are POSIX's")


def source(count: int) -> bytes:
    return SECRET[:count]


def mode_of(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.fixture
def folder(tmp_path: Path) -> DataFolder:
    made = DataFolder(tmp_path / "data")
    made.create()
    return made


@pytest.fixture
def no_umask() -> Iterator[None]:
    before = os.umask(0)
    yield
    os.umask(before)


@needs_modes
@pytest.mark.security
@pytest.mark.usefixtures("no_umask")
def test_create_makes_a_folder_for_its_owner_only(tmp_path: Path) -> None:
    folder = DataFolder(tmp_path / "far" / "data")

    folder.create()

    assert mode_of(folder.path) == 0o700


def test_create_leaves_a_folder_as_it_is(folder: DataFolder) -> None:
    (folder.path / "kept").write_text("kept")

    folder.create()

    assert (folder.path / "kept").read_text() == "kept"


def test_create_where_a_file_is_says_so(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("a file")

    with pytest.raises(FolderError, match=r"^The data folder .*data cannot be made: File exists\.$"):
        DataFolder(tmp_path / "data").create()


def test_folder_is_empty_while_missing_or_only_locked(tmp_path: Path) -> None:
    folder = DataFolder(tmp_path / "data")
    missing = folder.is_empty()
    folder.create()
    made = folder.is_empty()
    with folder.hold():
        held = folder.is_empty()

    assert (missing, made, held) == (True, True, True)


def test_folder_with_anything_in_it_is_not_empty(folder: DataFolder) -> None:
    folder.ensure_key(source)

    assert folder.is_empty() is False


def test_is_empty_of_a_file_says_so(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("a file")

    with pytest.raises(FolderError, match=r"cannot be read"):
        DataFolder(tmp_path / "data").is_empty()


def test_ensure_key_writes_the_random_bytes_as_hex(folder: DataFolder) -> None:
    key = folder.ensure_key(source)

    assert key == SECRET
    assert folder.key_path.read_text() == SECRET.hex() + "\n"


def test_ensure_key_keeps_a_key(folder: DataFolder) -> None:
    folder.ensure_key(source)

    again = folder.ensure_key(lambda count: b"\xff" * count)

    assert again == folder.read_key() == SECRET


@needs_modes
@pytest.mark.security
@pytest.mark.usefixtures("no_umask")
def test_ensure_key_makes_a_file_for_its_owner_only(folder: DataFolder) -> None:
    folder.ensure_key(source)

    assert mode_of(folder.key_path) == 0o600


def test_ensure_key_without_a_folder_says_so(tmp_path: Path) -> None:
    with pytest.raises(FolderError, match=r"cannot be made: No such file or directory\.$"):
        DataFolder(tmp_path / "data").ensure_key(source)


def test_read_key_makes_none(folder: DataFolder) -> None:
    with pytest.raises(FolderError, match=r"^There is no key file in "):
        folder.read_key()

    assert folder.is_empty() is True


@pytest.mark.security
@pytest.mark.parametrize(
    "text",
    ["", "\n", SECRET.hex()[2:], SECRET.hex() + "00", "g" * 64, SECRET.hex() + "\u00e9"],
    ids=["empty", "blank", "short", "long", "not hex", "not ascii"],
)
def test_read_key_refuses_a_damaged_key(folder: DataFolder, text: str) -> None:
    folder.key_path.write_text(text, encoding="utf-8")
    folder.key_path.chmod(0o600)

    with pytest.raises(FolderError, match=r"^The key file .* is damaged: "):
        folder.ensure_key(source)

    assert folder.key_path.read_text(encoding="utf-8") == text


@needs_modes
@pytest.mark.security
@pytest.mark.parametrize("mode", [0o604, 0o602, 0o644, 0o620, 0o666, 0o601])
def test_read_key_refuses_a_key_open_to_others(folder: DataFolder, mode: int) -> None:
    folder.ensure_key(source)
    folder.key_path.chmod(mode)

    with pytest.raises(FolderError, match=r"is open to other users: run chmod 600 on it\.$"):
        folder.read_key()


@needs_modes
@pytest.mark.parametrize("mode", [0o600, 0o400, 0o640])
def test_read_key_accepts_a_key_of_its_owner_or_group(folder: DataFolder, mode: int) -> None:
    folder.ensure_key(source)
    folder.key_path.chmod(mode)

    assert folder.read_key() == SECRET


def test_hold_keeps_others_out_until_it_ends(folder: DataFolder) -> None:
    other = DataFolder(folder.path)

    with folder.hold(), pytest.raises(FolderBusy) as refusal, other.hold():
        pass
    with other.hold():
        pass

    assert str(refusal.value) == f"Another monreq is using this folder: {folder.path}."


def test_hold_without_a_folder_says_so(tmp_path: Path) -> None:
    folder = DataFolder(tmp_path / "file" / "data")
    (tmp_path / "file").write_text("a file")

    with pytest.raises(FolderError, match=r"cannot be locked"), folder.hold():
        pass


@pytest.mark.faults
def test_hold_of_a_killed_process_ends_with_it(folder: DataFolder) -> None:
    command = [sys.executable, "-c", HOLDER, str(folder.path)]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        with pytest.raises(FolderBusy), folder.hold():
            pass

        holder.kill()
        holder.wait()

    with folder.hold():
        assert folder.lock_path.exists()
