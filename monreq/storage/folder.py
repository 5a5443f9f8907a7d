"""The data folder: making it, the key file in it, and the lock that one process holds on it."""

import os
import stat
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from filelock import FileLock, Timeout

from monreq.services.tokens import KEY_BYTES

_OTHERS_OR_GROUP_WRITE: Final = stat.S_IRWXO | stat.S_IWGRP


class FolderError(Exception):
    """A data folder that cannot be used; its text is one sentence."""


class FolderBusy(FolderError):  # noqa: N818 - the name already says what is wrong
    """The folder is held by another process."""


class NotLockable(Exception):  # noqa: N818 - the name already says what is wrong
    """A lock file that cannot be opened; its text says why."""


@contextmanager
def locked(path: Path, busy: str) -> Iterator[None]:
    """Keep every other process from holding a lock meanwhile; it is the operating system's, and ends with its owner.

    Raises:
        FolderBusy: If another process holds it; says what is busy.
        NotLockable: If the lock file cannot be opened.
    """
    lock = FileLock(path, mode=0o600, thread_local=False, preserve_lock_file=True)
    try:
        lock.acquire(timeout=0)
    except Timeout as error:
        raise FolderBusy(busy) from error
    except OSError as error:
        raise NotLockable(error.strerror) from error
    try:
        yield
    finally:
        lock.release()


@dataclass(frozen=True)
class DataFolder:
    """The folder that holds all of one installation's data."""

    path: Path

    @property
    def key_path(self) -> Path:
        """Where the key lies."""
        return self.path / "key"

    @property
    def lock_path(self) -> Path:
        """Where the lock lies; the file stays when the lock is released."""
        return self.path / "lock"

    @property
    def copies_path(self) -> Path:
        """Where a running server keeps its copies."""
        return self.path / "copies"

    @property
    def unfinished_restore_path(self) -> Path:
        """What lies here from a restore's first change to its last."""
        return self.path / "restore-unfinished"

    def create(self) -> None:
        """Make the folder, for its owner only; a folder that exists is left as it is.

        Raises:
            FolderError: If it cannot be made.
        """
        try:
            self.path.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as error:
            raise FolderError(f"The data folder {self.path} cannot be made: {error.strerror}.") from error

    def is_empty(self) -> bool:
        """Whether nothing but a lock is in it; a missing folder is empty.

        Raises:
            FolderError: If it cannot be read.
        """
        try:
            return all(entry == self.lock_path for entry in self.path.iterdir())
        except FileNotFoundError:
            return True
        except OSError as error:
            raise FolderError(f"The data folder {self.path} cannot be read: {error.strerror}.") from error

    def ensure_key(self, random_bytes: Callable[[int], bytes]) -> bytes:
        """Read the key, making it first where there is none.

        Args:
            random_bytes: A source of secret bytes, given how many.

        Raises:
            FolderError: If the key cannot be used or made.
        """
        try:
            _write_new(self.key_path, random_bytes(KEY_BYTES).hex() + "\n")
        except FileExistsError:
            pass
        except OSError as error:
            raise FolderError(f"The key file {self.key_path} cannot be made: {error.strerror}.") from error
        return self.read_key()

    def read_key(self) -> bytes:
        """Read the key that tokens and cookies are made from.

        Raises:
            FolderError: If it is missing, malformed or open to other users.
        """
        try:
            mode, text = self.key_path.stat().st_mode, self.key_path.read_text("ascii")
            key = bytes.fromhex(text)
        except FileNotFoundError as error:
            raise FolderError(f"There is no key file in {self.path}.") from error
        except OSError as error:
            raise FolderError(f"The key file {self.key_path} cannot be read: {error.strerror}.") from error
        except ValueError as error:
            raise self._malformed() from error
        if os.name == "posix" and mode & _OTHERS_OR_GROUP_WRITE:
            raise FolderError(f"The key file {self.key_path} is open to other users: run chmod 600 on it.")
        if len(key) != KEY_BYTES:
            raise self._malformed()
        return key

    @contextmanager
    def hold(self) -> Iterator[None]:
        """Keep every other process from holding the folder meanwhile.

        Raises:
            FolderBusy: If another process holds it.
            FolderError: If the lock file cannot be opened.
        """
        busy = f"Another monreq is using this folder: {self.path}."
        try:
            with locked(self.lock_path, busy):
                yield
        except NotLockable as error:
            raise FolderError(f"The data folder {self.path} cannot be locked: {error}.") from error

    def is_held(self) -> bool:
        """Whether another process holds the folder just now; nothing is made."""
        if not self.lock_path.exists():
            return False
        try:
            with self.hold():
                return False
        except FolderBusy:
            return True
        except FolderError:
            return False

    def _malformed(self) -> FolderError:
        return FolderError(
            f"The key file {self.key_path} is damaged: put it back from a copy, "
            "or remove it and print all codes again."
        )


def write_key(path: Path, text: str) -> None:
    """Put a key where there may be another one, whole or not at all."""
    unfinished = path.with_name(f"{path.name}.new")
    unfinished.unlink(missing_ok=True)
    _write_new(unfinished, text)
    unfinished.replace(path)


def _write_new(path: Path, text: str) -> None:
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
