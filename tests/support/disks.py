"""Disks that a test may fill or pull out: a small one in memory, mounted for a test alone, which needs root."""

import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

_AS_ROOT = [] if os.name == "posix" and os.geteuid() == 0 else ["sudo", "-n"]


@contextmanager
def small_disk(folder: Path, megabytes: int) -> Iterator[Path]:
    """Mount a disk of so many megabytes on a folder until the block ends."""
    folder.mkdir()
    _run("mount", "-t", "tmpfs", "-o", f"size={megabytes}m,mode=0700,uid={os.getuid()}", "tmpfs", str(folder))
    try:
        yield folder
    finally:
        _run("umount", "-l", str(folder))


def remount(disk: Path, how: str) -> None:
    """Let a small disk be read only (`ro`), or written again (`rw`)."""
    _run("mount", "-o", f"remount,{how}", str(disk))


def fill(disk: Path) -> Path:
    """Take all the room that is left; returns the file that does."""
    ballast = disk / "ballast"
    with ballast.open("wb", buffering=0) as file:
        try:
            while True:
                file.write(b"\0" * 4096)
        except OSError:
            pass
    return ballast


@contextmanager
def plugged_in(stick: Path, socket: Path) -> Iterator[None]:
    """Have a folder appear at another place, as a stick does; it is gone when the block ends, whoever uses it."""
    _run("mount", "--bind", str(stick), str(socket))
    try:
        yield
    finally:
        _run("umount", "-l", str(socket))


def _run(*words: str) -> None:
    done = subprocess.run([*_AS_ROOT, *words], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        pytest.skip(f"this user may not {words[0]}: {done.stderr.strip()}")
