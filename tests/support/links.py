"""A network of a test's own, of two ends and a link that can be cut; needs root, and touches nothing outside."""

import ctypes
import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

_CLONE_NEWNET = 0x40000000


class Link:
    """A link between this machine and a namespace that stands for the phones.

    Attributes:
        here: This machine's address on it.
    """

    def __init__(self, number: int) -> None:
        self.name, self.near, self.far = f"monreq{number}", f"mrn{number}", f"mrf{number}"
        self.net = f"10.{97 + number % 100}.{number // 100 % 250}"
        self.here = f"{self.net}.1"

    def make(self) -> None:
        ip("netns", "add", self.name)
        ip("link", "add", self.near, "type", "veth", "peer", "name", self.far, "netns", self.name)
        ip("address", "add", f"{self.here}/24", "dev", self.near)
        ip("-n", self.name, "address", "add", f"{self.net}.200/24", "dev", self.far)
        ip("-n", self.name, "link", "set", self.far, "up")
        self.mend()

    def cut(self) -> None:
        """Let nothing through any more; nobody is told."""
        ip("link", "set", self.near, "down")

    def mend(self) -> None:
        """Let everything through again."""
        ip("link", "set", self.near, "up")

    def move(self, last: int) -> str:
        """Give this machine another address on the link, in place of the one it had; returns it."""
        ip("address", "flush", "dev", self.near)
        self.here = f"{self.net}.{last}"
        ip("address", "add", f"{self.here}/24", "dev", self.near)
        return self.here

    def enter(self) -> None:
        """Put the calling thread, and those that it starts, at the phones' end."""
        with Path(f"/run/netns/{self.name}").open("rb") as namespace:
            libc = ctypes.CDLL(None, use_errno=True)
            if libc.setns(namespace.fileno(), _CLONE_NEWNET) != 0:
                raise OSError(ctypes.get_errno(), "setns")

    def remove(self) -> None:
        with suppress(subprocess.CalledProcessError):
            ip("netns", "delete", self.name)
        with suppress(subprocess.CalledProcessError):
            ip("link", "delete", self.near)


def ip(*words: str) -> None:
    subprocess.run(["ip", *words], check=True, capture_output=True)  # noqa: S607 - wherever the system keeps it


@contextmanager
def own_link() -> Iterator[Link]:
    """Have a link until the block ends."""
    link = Link(os.getpid())
    try:
        link.make()
    except (OSError, subprocess.CalledProcessError) as error:
        link.remove()
        pytest.skip(f"no network namespaces here: {error}")
    try:
        yield link
    finally:
        link.remove()
