"""A soundcheck by requests: five musicians in in-ears, ten sources each, from the low start to what they want to hear.

Everybody asks for what is still off, in the phone's amounts, until nothing is; the engineer takes what is suggested and
types a figure only where nothing is suggested at all, and again where it is asked about.
"""

from dataclasses import dataclass, field

from monreq.domain import commands as c
from monreq.domain.queue import Row
from monreq.domain.requests import Kind, Outcome
from monreq.domain.sense import MakesLittleSense
from monreq.domain.setup import Setting, SourceKind
from monreq.domain.typed_commands import EnterTyped
from tests.support.stage import Stage

MUSICIANS = ("singer", "bass", "drummer", "guitar", "keys")
SOURCES = ("voice", "choir", "kick", "snare", "overheads", "bassline", "chords", "lead", "piano", "click")
WANTED = (-40, -150, -120, -130, -200, -110, -160, -170, -140, -180)
"""What the sends of a mix are to come to, each musician's own source the loudest. [0.1 dB]."""
MOST_ROUNDS = 40
AMOUNTS = (60, 30, 10)


@dataclass
class Soundcheck:
    """One soundcheck.

    Attributes:
        typed: How many figures the engineer typed.
        keys: How often one key took what was suggested.
    """

    stage: Stage = field(default_factory=Stage)
    typed: int = 0
    keys: int = 0

    def __post_init__(self) -> None:
        for musician in MUSICIANS:
            self.stage.musician(musician)
            self.stage.in_ears(musician, musician)
        for source in SOURCES:
            self.stage.source(source, kind=SourceKind.DIRECT)

    def type_start_levels(self, level: int) -> None:
        """Type one level a mix for all that is on in it, as the page of a mix takes it. [0.1 dB]."""
        for mix in MUSICIANS:
            self.typed += 1
            sends = self.stage.show.levels[mix].sends
            self._type(c.EnterSettings(mix, tuple((source, Setting(level)) for source in sends)))

    def play(self) -> None:
        """Play it to its end."""
        for _ in range(MOST_ROUNDS):
            if not self.ask():
                return
            for row in self.stage.rows:
                self.answer(row)
            self.stage.wait(60)

    @property
    def most_off(self) -> int:
        """How far the send that is furthest off is from what its musician wants. [0.1 dB]."""
        return max(abs(self.off_by(mix, source)) for mix in MUSICIANS for source in SOURCES)

    def off_by(self, mix: str, source: str) -> int:
        """Return how far a send is below what its musician wants. [0.1 dB]."""
        shift = 2 * MUSICIANS.index(mix)
        return WANTED[(SOURCES.index(source) - shift) % len(SOURCES)] - self.stage.level(mix, source)

    def ask(self) -> bool:
        """Let everybody ask for what is still off and does not wait; return whether anything is off."""
        is_off = False
        for mix in MUSICIANS:
            for source in SOURCES:
                off = self.off_by(mix, source)
                is_off |= abs(off) >= AMOUNTS[-1]
                if abs(off) >= AMOUNTS[-1] and self.stage.row(mix, source) is None:
                    amount = next(one for one in AMOUNTS if one <= abs(off))
                    self.stage.ask(mix, source, amount if off > 0 else -amount)
        return is_off

    def answer(self, row: Row) -> None:
        """Take what is suggested; where that is nothing, type what was asked."""
        row = self.stage.row(row.key.mix, row.key.source, Kind.LEVEL) or row
        requests = [one.id for one in row.requests]
        if row.suggestion.move:
            self.keys += 1
            self.stage.done(*requests)
        else:
            self.typed += 1
            self._type(c.Answer(tuple(requests), Outcome.DONE, done=row.asked))

    def _type(self, command: c.Answer | c.EnterSettings) -> None:
        try:
            self.stage.do(EnterTyped(command))
        except MakesLittleSense as doubtful:
            names = tuple(doubt.name for doubt in doubtful.doubts)
            self.stage.do(EnterTyped(command, confirmed=names))
