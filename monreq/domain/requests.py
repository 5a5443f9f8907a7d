"""Requests of musicians: what they ask for, the rows they add up in, and how far a hand moved."""

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
