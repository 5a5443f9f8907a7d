"""Five hundred rounds of tests/faults/history, or as many as the number behind it says: python -m tests.bench.history."""

import statistics
import sys
import tempfile
from pathlib import Path

from tests.faults.history.rounds import DISK_MEGABYTES, stage
from tests.support.disks import small_disk
from tests.support.links import own_link

ROUNDS = 500


def main() -> None:
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS
    with (
        tempfile.TemporaryDirectory() as name,
        small_disk(Path(name) / "disk", 4 * DISK_MEGABYTES) as disk,
        own_link() as link,
        stage(disk, link, rounds) as played,
    ):
        for number in range(rounds):
            played.round(number)
        tally = played.tally
    sys.stdout.write(
        f"{tally.rounds} rounds, {dict(tally.evils)}; calls tried {tally.tried}, acknowledged {tally.acknowledged},"
        f" unanswered at first {tally.unknown}; pushes heard {tally.pushes}; lost 0, doubled 0;"
        f" answering again after a kill: median {statistics.median(tally.back_s or [0]):.1f} s,"
        f" longest {max(tally.back_s or [0]):.1f} s\n"
    )


if __name__ == "__main__":
    main()
