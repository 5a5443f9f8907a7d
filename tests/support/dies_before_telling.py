"""monreq, but for one thing: it dies after what was sent as `last-words` is stored, and before anybody is told.

Stands before the command of a process: python -m tests.support.dies_before_telling python -m monreq serve ...
"""
# ruff: noqa: E402 - the runtime is made ready before other imports

import os
import sys

from monreq.cli import prepare_runtime
from monreq.config import load_async_mode

prepare_runtime(load_async_mode())

from monreq.cli.commands import run
from monreq.live.announcer import Announcer
from monreq.live.changes import client_ids
from monreq.services.ports import Change

FATAL = "last-words"
tell = Announcer.tell


def tell_or_die(announcer: Announcer, change: Change) -> None:
    """End the process at the worst moment."""
    if any(FATAL in ids for ids in client_ids(change).values()):
        os._exit(137)
    tell(announcer, change)


def die_and_never_tell() -> None:
    """Run the rest of the command line."""
    setattr(Announcer, "tell", tell_or_die)  # noqa: B010 - the program has no such door, and shall have none
    sys.argv = sys.argv[sys.argv.index("monreq") :]
    sys.exit(run())


if __name__ == "__main__":
    die_and_never_tell()
