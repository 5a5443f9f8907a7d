"""A second, simpler account of a show, written without the domain: who waits for what, and where every level stands.

It believes only what was recorded, and finds fault where one record does not fit those before it.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from monreq.domain import carry_events as k
from monreq.domain import events as e
from monreq.domain import telling_events as t
from monreq.domain.requests import Call, Kind, Move, Outcome
from monreq.domain.setup import Setting
from tests.evenings.found import Found

Place = tuple[str, str | None]
"""A mix, and a source of it, or None for its output."""


@dataclass
class Wish:
    """A request that waits."""

    mix: str
    source: str | None
    kind: str
    amount: int
    musician: str
    call: Call | None
    is_aside: bool = False
    is_seen: bool = False
    target: int | None = None

    @property
    def row(self) -> tuple[str, str | None, str]:
        return self.mix, self.source, self.kind


class Account:
    """What one show comes to.

    Attributes:
        waiting: By the request's id.
        ended: Every request that waits no more: of each it is known that it ended once.
        stands: Where each send and output stands.
    """

    def __init__(self) -> None:
        self.waiting: dict[str, Wish] = {}
        self.ended: dict[str, Wish] = {}
        self.stands: dict[Place, Setting] = {}
        self._answered_by: dict[str, tuple[str, ...]] = {}
        self._revision = 0

    def take(self, log: Iterable[e.Recorded]) -> None:
        """Enter what was recorded."""
        for recorded in log:
            if recorded.revision != self._revision + 1:
                raise Found("sums", f"revision {recorded.revision} comes after {self._revision}")
            self._revision = recorded.revision
            self._take(recorded)

    def sums(self) -> dict[tuple[str, str | None, str], int]:
        """Return what each row waits for, added up."""
        found: dict[tuple[str, str | None, str], int] = defaultdict(int)
        for wish in self.waiting.values():
            found[wish.row] += wish.amount
        return dict(found)

    def unseen_calls(self) -> list[str]:
        """Return the urgent calls that wait and that no desk said to have seen."""
        return [one for one, wish in self.waiting.items() if wish.call and not wish.is_seen]

    def _take(self, recorded: e.Recorded) -> None:
        event = recorded.event
        match event:
            case e.ChangeAsked():
                self._ask(event)
            case e.RequestsCancelledOut(requests=requests):
                self._end(requests, "cancelled out")
            case e.RequestWithdrawn(request=request):
                self._end((request,), "withdrawn")
            case e.RequestsAnswered():
                self._answer(event)
            case e.DecisionUndone():
                self._undo(event)
            case t.CallsSeen(requests=requests):
                for one in requests:
                    self.waiting[one].is_seen = True
            case _:
                self._level(event)

    def _level(self, event: e.Event) -> None:
        match event:
            case e.LevelCorrected(move=move):
                self._move(move)
            case e.SendPut(mix=mix, source=source, setting=setting):
                self.stands[mix, source] = setting
            case k.LevelsCarried(mix=mix, settings=settings):
                self.stands.update({(mix, source): setting for source, setting in settings})
            case e.MixPut(mix=mix) if not mix.is_stereo:
                self._fold_to_mono(mix.id)
            case e.SendRemoved(mix=mix, source=source):
                self._forget(lambda place: place == (mix, source))
            case e.MixRemoved(mix=mix):
                self._forget(lambda place: place[0] == mix)
            case _:
                pass

    def _ask(self, event: e.ChangeAsked) -> None:
        if event.request in self.waiting or event.request in self.ended:
            raise Found("sums", f"{event.request} was asked twice")
        self.waiting[event.request] = Wish(
            event.mix, event.source, event.kind.value, event.amount, event.musician, event.call
        )
        if event.target is not None:
            self.waiting[event.request].target = event.target

    def _end(self, requests: Iterable[str], how: str) -> None:
        for request in requests:
            if request not in self.waiting:
                raise Found("sums", f"{request} was {how}, and does not wait")
            self.ended[request] = self.waiting.pop(request)

    def _amount(self, wish: Wish) -> int:
        """Return what is asked; a song asks for a place to be reached, from wherever it stands by now."""
        stands = self.stands.get((wish.mix, wish.source))
        if wish.target is None or stands is None:
            return wish.amount
        return wish.target - (stands.pan_percent if wish.kind == Kind.PAN.value else stands.level_tenths)

    def _answer(self, event: e.RequestsAnswered) -> None:
        rows = {self.waiting[one].row for one in event.requests if one in self.waiting}
        if rows - {(event.mix, event.source, event.kind.value)}:
            raise Found("sums", f"{event.decision} is about {event.mix}/{event.source}, answers {rows}")
        if event.outcome is Outcome.SET_ASIDE:
            for one in event.requests:
                self.waiting[one].is_aside = True
            return
        asked = sum(self._amount(self.waiting[one]) for one in event.requests if one in self.waiting)
        self._end(event.requests, "answered")
        if event.kind in (Kind.LEVEL, Kind.PAN) and event.asked != asked:
            raise Found("sums", f"{event.decision} says that {event.asked} was asked, it was {asked}")
        self._answered_by[event.decision] = event.requests
        self._moves(event.move, event.also)

    def _undo(self, event: e.DecisionUndone) -> None:
        for request in event.requests:
            if request not in self.ended and request not in self.waiting:
                raise Found("sums", f"{request} waits again, and never waited")
            wish = self.ended.pop(request, None) or self.waiting[request]
            self.waiting[request] = wish
            wish.is_aside = False
        self._moves(event.move, event.also)

    def _moves(self, move: Move | None, also: Iterable[Move]) -> None:
        for one in ([move] if move else []) + list(also):
            self._move(one)

    def _move(self, move: Move) -> None:
        place = (move.mix, move.source)
        known = self.stands.get(place)
        if known is None:
            raise Found("sums", f"{place} was moved, and is not in the show")
        if known != move.before:
            raise Found("sums", f"{place} was moved from {move.before}, it stands at {known}")
        self.stands[place] = move.after

    def _fold_to_mono(self, mix: str) -> None:
        for place, one in self.stands.items():
            if place[0] == mix:
                self.stands[place] = Setting(one.level_tenths, 0, one.is_on)

    def _forget(self, is_gone: Callable[[Place], bool]) -> None:
        for place in [place for place in self.stands if is_gone(place)]:
            del self.stands[place]
