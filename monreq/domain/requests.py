"""Requests of musicians, and the decisions that answer them."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from monreq.domain.setup import Setting, Settings


class Kind(StrEnum):
    """What a row of the queue is about; requests of one kind for one target add up."""

    LEVEL = "level"
    PAN = "pan"
    IN_OUT = "in_out"
    SOUND = "sound"
    CALL = "call"


class Call(StrEnum):
    """An urgent call, in the order in which calls are worked."""

    HURTS = "hurts"
    SQUEAL = "squeal"
    NOTHING = "nothing"
    TALK = "talk"


CALL_ORDER = {call: place for place, call in enumerate(Call)}


class Amount(StrEnum):
    """The three amounts of the phone; a show's settings say how many dB each is."""

    TOUCH = "touch"
    SOME = "some"
    LOT = "lot"


def amounts_in_tenths(settings: Settings) -> Mapping[Amount, int]:
    """Return what each amount means in a show, the smallest first. [0.1 dB]."""
    return {
        Amount.TOUCH: settings.touch_tenths,
        Amount.SOME: settings.some_tenths,
        Amount.LOT: settings.lot_tenths,
    }


class Outcome(StrEnum):
    """How a decision answers its requests."""

    DONE = "done"
    NOT_DONE = "not_done"
    SET_ASIDE = "set_aside"


class Way(StrEnum):
    """How a request was met: a call by the last raise taken back, one for more in the other ways."""

    PLAIN = "plain"
    SAME_LOUDNESS = "same_loudness"
    REST_DOWN = "rest_down"
    LAST_RAISE = "last_raise"


class RequestState(StrEnum):
    """Where a request stands."""

    WAITING = "waiting"
    SET_ASIDE = "set_aside"
    DONE = "done"
    DONE_IN_PART = "done_in_part"
    NOT_DONE = "not_done"
    WITHDRAWN = "withdrawn"
    CANCELLED_OUT = "cancelled_out"


class RowKey(NamedTuple):
    """What a row stands for: one kind of request for one source, or group (None: the whole mix), of one mix.

    A tuple, because every page looks rows up by it hundreds of times.
    """

    mix: str
    source: str | None
    kind: Kind


PUT_BACK = "u"
"""How the groups begin of what is to be put back up; see `put_back`."""


@dataclass(frozen=True, slots=True)
class Request:
    """One open request.

    Attributes:
        amount: The change asked for: [0.1 dB] for a level, [%] for pan, +1 in or -1 out, else 0.
        words: What a sound request says, else empty.
        at_ms: When it was asked. [ms since 1970, UTC]
        client_id: The id that the asking page gave it; empty if none.
        group: The preamp change that it compensates, the moves for a song that it is one of, or what it puts back; empty
            if a musician asked.
        target: Where a song wants it, in the unit of the kind, for in 1 and out 0; `amount` leads there from where
            things stand. None for what a musician or a preamp asks.
        seen_at_ms, seen_by: When a desk said that this call was seen, and that desk's name, if it has one.
    """

    id: str
    key: RowKey
    musician: str
    amount: int
    words: str
    call: Call | None
    at_ms: int
    client_id: str = ""
    group: str = ""
    is_set_aside: bool = False
    target: int | None = None
    seen_at_ms: int | None = None
    seen_by: str = ""

    @property
    def is_for_preamp(self) -> bool:
        """Whether it makes up for a change of gain."""
        return bool(self.group) and self.target is None and not self.is_put_back

    @property
    def is_put_back(self) -> bool:
        """Whether it is what an undo, or a plan given up, left to be put back."""
        return self.group.startswith(PUT_BACK)

    @property
    def is_for_song(self) -> bool:
        """Whether a song asks for it."""
        return self.target is not None


@dataclass(frozen=True, slots=True)
class Move:
    """What a hand did to one send, or to the output of a mix (source None)."""

    mix: str
    source: str | None
    before: Setting
    after: Setting


@dataclass(frozen=True, slots=True)
class Decision:
    """An answer of the desk, with all that undoing it needs.

    Attributes:
        requests: What it answered, as they were when they were answered.
        asked: The sum of what they asked for, in the unit of the kind.
        move: What was done, None where nothing was moved, or several sends of a group.
        reason: A reason's code or free words; may be empty when done.
        also: Further moves that belong to it: the output against a raise, the rest of the mix down, a raise taken back.
        desk: The name of the desk that answered; empty if it has none.
    """

    id: str
    key: RowKey
    outcome: Outcome
    requests: tuple[Request, ...]
    asked: int
    move: Move | None
    reason: str
    at_ms: int
    by: str
    is_undone: bool = False
    way: Way = Way.PLAIN
    also: tuple[Move, ...] = ()
    desk: str = ""

    @property
    def done(self) -> int | None:
        """How far the hand went, in the unit of the kind; of a group the farthest; None where nothing was moved."""
        if self.move is not None:
            return moved(self.key.kind, self.move)
        return max((moved(self.key.kind, one) or 0 for one in self.moves_of_group), key=abs, default=None)

    @property
    def moves_of_group(self) -> tuple[Move, ...]:
        """What was done to each send of a group; nothing for a single send."""
        if self.move is not None or self.way not in (Way.PLAIN, Way.SAME_LOUDNESS):
            return ()
        return tuple(one for one in self.also if one.source is not None)

    @property
    def done_for_musicians(self) -> int | None:
        """How far the hand went for musicians, beside a preamp and a song, in the unit of the kind."""
        if self.done is None or not any(one.group for one in self.requests):
            return self.done
        return self.done - self._compensating - (self.done_for_song or 0) - (self.done_for_put_back or 0)

    @property
    def done_for_song(self) -> int | None:
        """How far the hand went for a song, in the unit of the kind: what is left once musicians have theirs."""
        if self.done is None:
            return None
        rest = self.done - self._compensating - self.asked_by_musicians - (self.done_for_put_back or 0)
        return _part_of(self._for_song, rest)

    @property
    def done_for_put_back(self) -> int | None:
        """How far the hand went to put something back, in the unit of the kind: once musicians have theirs."""
        if self.done is None:
            return None
        return _part_of(self.to_put_back, self.done - self._compensating - self.asked_by_musicians)

    @property
    def to_put_back(self) -> int:
        """How far something was to be put back, in the unit of the kind."""
        return sum(one.amount for one in self.requests if one.is_put_back)

    def done_for_preamp(self, change: str) -> int:
        """Return how far the hand went to make up for one change of a preamp's gain. [0.1 dB]."""
        own = sum(one.amount for one in self.requests if one.group == change)
        if not own or self.done is None:
            return 0
        done = self.done - (self.asked - own)
        return _part_of(own, done)

    @property
    def asked_by_musicians(self) -> int:
        """What musicians asked for, beside a preamp, a song and what is put back, in the unit of the kind."""
        return self.asked - self._compensating - self._for_song - self.to_put_back

    @property
    def is_for_musicians(self) -> bool:
        """Whether it answers any musician, and not the desk's compensation of a preamp alone."""
        return any(not one.group for one in self.requests)

    def state_of(self, request: Request) -> RequestState:
        """Return the state that this decision, while it stands, gives one of its requests."""
        own = sum(
            one.amount
            for one in self.requests
            if (one.musician, one.group) == (request.musician, request.group)
        )
        if self.way is Way.REST_DOWN:
            lowered = max((one.before.level_tenths - one.after.level_tenths for one in self.also), default=0)
            return answered_state(self.outcome, own, self.asked, lowered)
        if request.is_put_back:
            return answered_state(self.outcome, own, self.to_put_back, self.done_for_put_back)
        if request.is_for_song:
            return answered_state(self.outcome, own, self._for_song, self.done_for_song)
        if not request.is_for_preamp:
            return answered_state(self.outcome, own, self.asked_by_musicians, self.done_for_musicians)
        beside = self.asked - self._compensating
        done = None if self.done is None else self.done - beside
        return answered_state(self.outcome, own, self._compensating, done)

    @property
    def _compensating(self) -> int:
        return sum(one.amount for one in self.requests if one.is_for_preamp)

    @property
    def _for_song(self) -> int:
        return sum(one.amount for one in self.requests if one.is_for_song)


def _part_of(asked: int, done: int) -> int:
    """Return how much of what was asked for is in what was done."""
    return max(min(asked, 0), min(max(asked, 0), done))


def moved(kind: Kind, move: Move | None) -> int | None:
    """Return how far a move went: [0.1 dB] for levels and calls, [%] for pan.

    For in and out it is where the move ended, +1 or -1, since there is nothing between.
    """
    if move is None:
        return None
    if kind is Kind.PAN:
        return move.after.pan_percent - move.before.pan_percent
    if kind is Kind.IN_OUT:
        return 1 if move.after.is_on else -1
    return move.after.level_tenths - move.before.level_tenths


def moved_by(kind: Kind, now: Setting, change: int) -> Setting:
    """Return a setting after a change in the unit of the kind."""
    if kind is Kind.PAN:
        return Setting(now.level_tenths, now.pan_percent + change, now.is_on)
    if kind is Kind.IN_OUT:
        return Setting(now.level_tenths, now.pan_percent, now.is_on if change == 0 else change > 0)
    return Setting(now.level_tenths + change, now.pan_percent, now.is_on)


def answered_state(outcome: Outcome, own: int, asked: int, done: int | None) -> RequestState:
    """Return the state of a request once a decision answered it.

    Done in part is what moved less than the row asked for, or the other way than its musician asked.

    Args:
        outcome: The decision's outcome.
        own: What the request's musician asked for in this decision, all their requests together.
        asked: What all requests of the decision asked for together.
        done: What was done, None where the kind has no figure.
    """
    if outcome is not Outcome.DONE:
        return RequestState(outcome.value)
    if not own or done is None:
        return RequestState.DONE
    direction = 1 if own > 0 else -1
    reached = done * direction >= max(asked * direction, 1)
    return RequestState.DONE if reached else RequestState.DONE_IN_PART
