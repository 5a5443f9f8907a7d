"""Plays evenings again by their seeds: python -m tests.evenings SEED ..."""

import sys

from tests.evenings.coverage import Reached, missed, summary
from tests.evenings.evening import play


def main() -> None:
    reached = Reached()
    for seed in map(int, sys.argv[1:] or ["1"]):
        told = play(seed)
        reached.add(told.house.reached)
        sys.stdout.write(f"seed {seed}: {told.steps} steps, {len(told.breaches)} suggestions too far\n")
    app = told.house.monreq.flask
    sys.stdout.write(f"{summary(app, reached)}\n")
    sys.stdout.write("".join(f"not reached: {name}\n" for name in missed(app, reached)))


if __name__ == "__main__":
    main()
