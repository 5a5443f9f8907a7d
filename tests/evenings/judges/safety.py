"""What suggestions alone came to: at every ear since the first soundcheck mark, and in the margin of every wedge.

Reckoned from what was recorded and from nothing of the program's own figures. A move counts as suggested where it was
taken by "done" without a typed figure; what a person typed is theirs, though what they lowered counts. Indicators.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from monreq.domain import carry_events as k
from monreq.domain import events as e
from monreq.domain import measuring_events as m
from monreq.domain.requests import Kind, Move, Outcome
from monreq.domain.setup import Setting

BOUND_TENTHS: Final = 120  # what a show's settings allow one source over an evening, until they say otherwise
RESERVE_TENTHS: Final = 30  # chosen: see monreq.domain.feedback.RESERVE_DB

Place = tuple[str, str | None]


@dataclass(frozen=True)
class Breach:
    """A suggestion that went too far. [0.1 dB]."""

    revision: int
    mix: str
    source: str | None
    what: str
    tenths: float

    def __str__(self) -> str:
        """Say it in a line."""
        about = f"{self.mix}/{self.source or 'whole mix'} at revision {self.revision}"
        return f"{about}: {self.what} {self.tenths / 10:+.1f} dB"


@dataclass(frozen=True)
class _Reading:
    """A margin, and where all stood that it is about. [0.1 dB]."""

    margin: int
    mics: int
    at: int


class Safety:
    """The sums of one show; give it every record, and which of them a player took as suggested.

    Args:
        bound_tenths: The most that suggestions may raise at an ear, all together. [0.1 dB]
        reserve_tenths: What must be left of the margin of all open mics of a wedge. [0.1 dB]
    """

    def __init__(self, bound_tenths: int = BOUND_TENTHS, reserve_tenths: int = RESERVE_TENTHS) -> None:
        self._bound, self._reserve = bound_tenths, reserve_tenths
        self._stands: dict[Place, Setting] = {}
        self._raised: dict[Place, int] = defaultdict(int)
        self._turned: dict[str, int] = defaultdict(int)
        self._gains: dict[str, int] = defaultdict(int)
        self._planned: dict[str, tuple[str, int]] = {}
        self._readings: dict[Place, _Reading] = {}
        self._of_decision: dict[str, dict[Place, int]] = {}
        self._wedges: set[str] = set()
        self._is_marked = False
        self.breaches: list[Breach] = []

    def take(self, log: Iterable[e.Recorded], *, is_suggested: bool) -> None:
        """Enter what one press came to; whether it was "done" with nothing typed."""
        for recorded in log:
            self._setup(recorded.event)
            match recorded.event:
                case e.SoundcheckMarked():
                    self._is_marked = True
                case e.RequestsAnswered(outcome=Outcome.DONE):
                    self._answered(recorded, recorded.event, is_suggested=is_suggested)
                case e.DecisionUndone(decision=decision):
                    for place, tenths in self._of_decision.pop(decision, {}).items():
                        self._raised[place] -= tenths
                    self._put(_moves(recorded.event))
                case _:
                    self._measured(recorded.event)

    def _setup(self, event: e.Event) -> None:
        match event:
            case e.SendPut(mix=mix, source=source, setting=setting):
                self._stands[mix, source] = setting
            case k.LevelsCarried(mix=mix, settings=put) | k.LevelsPutLow(mix=mix, settings=put):
                self._stands.update({(mix, source): setting for source, setting in put})
            case e.SettingsChanged(settings=settings):
                self._reserve, self._bound = settings.reserve_tenths, settings.source_evening_tenths
            case e.LevelCorrected(move=move):
                self._lower(move)
                self._put([move])
            case e.MixPut(mix=mix):
                (self._wedges.add if mix.output == "wedge" else self._wedges.discard)(mix.id)
            case e.SendRemoved(mix=mix, source=source):
                self._drop([(mix, source)])
            case e.MixRemoved(mix=mix):
                self._drop([place for place in self._stands if place[0] == mix])
            case _:
                pass

    def _drop(self, places: Iterable[Place]) -> None:
        for place in places:
            for known in (self._stands, self._raised, self._readings):
                known.pop(place, None)

    def _measured(self, event: e.Event) -> None:
        match event:
            case m.PreampChangePlanned(change=change, source=source, change_tenths=tenths):
                self._planned[change] = (source, tenths)
            case m.PreampMoved(change=change):
                source, tenths = self._planned[change]
                self._gains[source] += tenths
                self._turned[source] += tenths if self._is_marked else 0
            case m.MarginRead(mix=mix, source=source, margin_tenths=margin, open_mics=mics):
                self._readings[mix, source] = _Reading(margin, mics, self._at((mix, source)))
            case m.MarginsMadeStale(mix=mix):
                for place in [place for place in self._readings if place[0] == mix]:
                    del self._readings[place]
            case _:
                pass

    def _answered(self, recorded: e.Recorded, event: e.RequestsAnswered, *, is_suggested: bool) -> None:
        moves = list(_moves(event))
        for move in moves:
            own = self._of_decision.setdefault(event.decision, {})
            change = move.after.level_tenths - move.before.level_tenths
            counted = change if is_suggested else min(0, change)
            if self._is_marked and event.kind is not Kind.PAN:
                own[move.mix, move.source] = own.get((move.mix, move.source), 0) + counted
                self._raised[move.mix, move.source] += counted
        before = {mix: self._margin(mix) for mix in {move.mix for move in moves}}
        self._put(moves)
        if is_suggested:
            for move in moves:
                self._check(recorded.revision, move, before[move.mix])

    def _lower(self, move: Move) -> None:
        change = move.after.level_tenths - move.before.level_tenths
        if self._is_marked:
            self._raised[move.mix, move.source] += min(0, change)

    def _put(self, moves: Iterable[Move]) -> None:
        for move in moves:
            self._stands[move.mix, move.source] = move.after

    def _check(self, revision: int, move: Move, margin_before: float) -> None:
        is_in = move.after.is_on and not move.before.is_on
        if move.after.level_tenths <= move.before.level_tenths and not is_in:
            return
        sources = [move.source] if move.source is not None else self._sources(move.mix)
        raised = max((self._at_ear(move.mix, source) for source in sources), default=0)
        if self._is_marked and raised > self._bound:
            self.breaches.append(Breach(revision, move.mix, move.source, "suggested at an ear", raised))
        margin = self._margin(move.mix)
        if margin < min(self._reserve, margin_before):
            self.breaches.append(Breach(revision, move.mix, move.source, "margin left", margin))

    def _sources(self, mix: str) -> list[str | None]:
        return [source for of, source in self._stands if of == mix and source is not None]

    def _at_ear(self, mix: str, source: str | None) -> int:
        """Return what suggestions, and gains turned, raised one source at the ears of a mix. [0.1 dB]."""
        return self._raised[mix, source] + self._raised[mix, None] + self._turned[source or ""]

    def _at(self, place: Place) -> int:
        """Return where a mic stands from its preamp to the wedge. [0.1 dB]."""
        mix, source = place
        output = self._stands.get((mix, None), Setting(0))
        return self._stands[place].level_tenths + output.level_tenths + self._gains[source or ""]

    def _margin(self, mix: str) -> float:
        """Return what is left for all mics of a wedge that were read and are on, together. [0.1 dB]."""
        loops = [
            self._loop(place) for place in self._readings if place[0] == mix and self._stands[place].is_on
        ]
        return -100 * math.log10(sum(loops)) if loops and mix in self._wedges else math.inf

    def _loop(self, place: Place) -> float:
        """Return the loop gain of a mic, as a power: loops of unrelated paths add so.

        A mic read with others open had their share of the loop in its reading: it is counted as one of them.
        """
        reading = self._readings[place]
        left = reading.margin - (self._at(place) - reading.at)
        return float(10 ** (-left / 100)) / reading.mics


def _moves(event: e.RequestsAnswered | e.DecisionUndone) -> Iterator[Move]:
    if event.move is not None:
        yield event.move
    yield from event.also
