"""A wedge whose true ceiling is known: it squeals when the powers of all its loops come to 0 dB (unity gain).

`python -m tests.support.simulated_loop` prints what 500 evenings come to.
"""

import math
import random
import sys
from collections import Counter

from monreq.domain import song_commands as so
from monreq.domain.cautions import Basis
from monreq.domain.levels import Levels
from monreq.domain.requests import Call
from tests.support.stage import Stage

MICS = 4
SONGS = 15
HARD_AT_DB = 8.0  # how far above where it begins the loops of a wedge come to unity, at most


class Loop:
    """One evening at one wedge: musicians ask for more and now and then for less, the engineer takes what is suggested.

    Attributes:
        counts: How many raises were suggested by basis, and how many of them rang.
        most_over_db: How far above unity the loops came at most after one of them, by basis. [dB]
    """

    def __init__(self, seed: int, drift_db: float = 0.0) -> None:
        self.chance, self.drift_db = random.Random(seed), drift_db
        self.stage, self.counts = Stage(), Counter[str]()
        self.most_over_db: dict[str, float] = {}
        self.stage.musician("singer")
        self.stage.wedge("front", "singer")
        self.mics = [self.stage.source(f"mic{place}") for place in range(MICS)]
        self.stage.mark()
        shares = [self.chance.random() for _ in self.mics]
        room = self.chance.uniform(2.0, HARD_AT_DB)
        self.gain_db = {
            mic: -room - self.path(mic) + 10 * math.log10(share / sum(shares))
            for mic, share in zip(self.mics, shares, strict=True)
        }

    def path(self, mic: str, levels: Levels | None = None) -> float:
        levels = levels or self.stage.show.levels["front"]
        return (levels.sends[mic].setting.level_tenths + levels.output.setting.level_tenths) / 10

    def sum_db(self, paths: dict[str, float]) -> float:
        """Return the sum of the loops; from 0 dB on it squeals. [dB]."""
        return 10 * math.log10(sum(10 ** ((self.gain_db[mic] + at) / 10) for mic, at in paths.items()))

    @property
    def now_db(self) -> float:
        """What the loops come to now. [dB]."""
        return self.sum_db({mic: self.path(mic) for mic in self.mics})

    @property
    def rings(self) -> bool:
        return self.now_db >= 0

    def evening(self) -> None:
        for _ in range(SONGS):
            self.stage.do(so.BeginSong())
            self.stage.wait(240)
            self.stage.do(so.BeginGap())
            for _ in range(self.chance.randrange(4)):
                self.stage.ask(
                    "front", self.chance.choice(self.mics), self.chance.choice((10, 30, 60, -30)), "singer"
                )
            self.work()
            self.stage.wait(40)
            for mic in self.mics:
                self.gain_db[mic] += self.chance.gauss(0, self.drift_db)

    def work(self) -> None:
        """Take every suggestion; where it squeals, call, and go down as suggested until it stops."""
        for row in self.stage.rows:
            if row.asked is None:
                continue
            bases = {one.basis for one in row.suggestion.cautions if one.basis}
            basis = min(bases, key=list(Basis).index).value if bases else "none"
            self.stage.done(*(request.id for request in row.requests))
            if row.suggestion.move:
                self.counts[f"raised, {basis}"] += 1
                self.counts[f"rang, {basis}"] += self.rings
                self.most_over_db[basis] = max(self.most_over_db.get(basis, 0.0), self.now_db)
            self.stop()

    def stop(self) -> None:
        while self.rings:
            self.stage.done(self.stage.call("front", Call.SQUEAL, "singer"))

    def held_is_true(self) -> list[bool]:
        """Return of everything that is held to have stood a song whether it would stand now."""
        held = self.stage.show.past.held.get("front", ())
        return [self.sum_db({mic: at / 10 for mic, at in one.items()}) < 0 for one in held]

    def squealed_is_true(self) -> list[bool]:
        """Return of everything that squealed whether it would squeal now."""
        show = self.stage.show
        return [
            self.sum_db({mic: self.path(mic, one.stood.levels) for mic in self.mics}) >= 0
            for one in show.past.disproofs
        ]


def main() -> None:
    """Print what 500 evenings come to, without drift and with."""
    for drift_db in (0.0, 0.5):
        held: list[bool] = []
        squealed: list[bool] = []
        counts = Counter[str]()
        for seed in range(500):
            loop = Loop(seed, drift_db)
            loop.evening()
            held, squealed = held + loop.held_is_true(), squealed + loop.squealed_is_true()
            counts += loop.counts
        told = (
            f"held below truth {sum(held)} of {len(held)}, squealed above {sum(squealed)} of {len(squealed)}"
        )
        sys.stdout.write(f"drift {drift_db} dB a song: {told}; {dict(sorted(counts.items()))}\n")


if __name__ == "__main__":
    main()
