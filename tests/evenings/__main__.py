"""Plays evenings again by their seeds: python -m tests.evenings SEED ..."""

import sys
import time

from tests.evenings.coverage import Reached, missed, summary
from tests.evenings.evening import play


def main() -> None:
    """Play the evenings that are named, and tell what they reached."""
    play_all([int(one) for one in sys.argv[1:]] or [1])


def play_all(seeds: list[int]) -> None:
    """Play evenings one after another, with a line for each."""
    reached = Reached()
    for seed in seeds:
        began = time.monotonic()
        told = play(seed)
        reached.add(told.reached)
        took = time.monotonic() - began
        sys.stdout.write(f"seed {seed}: {told.steps} steps in {took:.0f} s\n")
        hidden = ", ".join(f"{page} {count}" for page, count in sorted(told.gaps.items()) if count)
        sys.stdout.write(f"  pages without an open call: {hidden}\n")
    sys.stdout.write(f"{summary(reached)}\n")
    sys.stdout.write("".join(f"not reached: {name}\n" for name in missed(reached)))


if __name__ == "__main__":
    main()
