"""Evenings for hours: `python -m tests.bench.evenings N [FIRST]` plays N of them from fresh seeds, told in the output.

It is no test and pytest does not run it; the first finding ends it, with its seed and its last steps.
"""

import secrets
import sys

from tests.evenings.__main__ import play_all

_SEEDS = 1_000_000


def main() -> None:
    """Play as many as are asked for."""
    count, *first = map(int, sys.argv[1:])
    begin = first[0] if first else secrets.randbelow(_SEEDS)
    play_all(list(range(begin, begin + count)))


if __name__ == "__main__":
    main()
