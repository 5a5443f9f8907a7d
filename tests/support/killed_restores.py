"""Restores a backup into folder after folder, each time killed one step later, until one of them gets through.

Run as a process of its own: `python -m tests.support.killed_restores BACKUP FOLDER...`. A step is whatever gives a file
another name or takes one away; the process is gone right before it, as after a power cut, and cleans nothing up.
"""

import os
import sys
from pathlib import Path

from monreq.storage.folder import DataFolder
from monreq.storage.restore import Restoring, check_backup
from tests.support.databases import sqlite_url

KILLED = 9
_STEPS = ("os.rename", "os.remove", "os.link", "os.truncate")


def restore_until(backup: Path, folder: Path, steps: int) -> None:
    """Restore, and be gone before the step behind so many."""
    left = steps

    def count_down(event: str, _: tuple[object, ...]) -> None:
        nonlocal left
        if event in _STEPS:
            left -= 1
            if left < 0:
                os._exit(KILLED)

    facts = check_backup(backup)
    sys.addaudithook(count_down)
    put_back = Restoring(
        sqlite_url(folder), DataFolder(folder), may_replace=True, aside="before-restore-1", epoch="1"
    )
    put_back.restore(backup, facts)


def main(backup: Path, folders: list[Path]) -> None:
    """Say for each folder whether its restore was killed; stop at the first that was not."""
    for steps, folder in enumerate(folders):
        child = os.fork()
        if child == 0:
            restore_until(backup, folder, steps)
            os._exit(0)
        code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        print(folder.name, code, flush=True)  # noqa: T201 - how it answers
        if code != KILLED:
            return


if __name__ == "__main__":
    main(Path(sys.argv[1]), [Path(one) for one in sys.argv[2:]])
