"""Presence: which phones are awake, asleep or gone, and on which row a desk works; told by the pages, in no log."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

BEAT_MS: Final = 20_000  # chosen: how often an open page says that it is there
SILENT_MS: Final = 2 * BEAT_MS + 10_000  # chosen: two beats missed, and the Wi-Fi's slowness
LEFT_MS: Final = 3_000  # chosen: a page that connects anew says goodbye for a moment
GONE_MS: Final = (
    30 * 60_000
)  # chosen: a phone that was silent for half an hour is not in anybody's pocket on stage
ON_ROW_MS: Final = 30_000  # chosen: a hand that has not moved for so long works on something else
KEPT_MS: Final = 6 * 60 * 60_000  # chosen: an evening


class PhoneState(StrEnum):
    """How a mix's phones are, the best of them first."""

    AWAKE = "awake"
    ASLEEP = "asleep"
    GONE = "gone"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Sign:
    """The last sign of one open page. All times in milliseconds since 1970, UTC.

    Attributes:
        page: An id that the page made for itself; known to other desks, good for nothing.
        mix: Whose phone it is; None is a desk.
        since_ms: Since when it says whether it is awake.
        heard_at_ms: When it was last heard of.
        left_at_ms: When it said goodbye; None if it did not.
        name: A desk's name; may be empty.
        row: The row that a desk's person last did something on; may be empty.
        row_at_ms: When that was.
        is_awake: Whether somebody can see the page, as it said itself.
    """

    page: str
    mix: str | None
    since_ms: int
    heard_at_ms: int
    left_at_ms: int | None = None
    name: str = ""
    row: str = ""
    row_at_ms: int = 0
    is_awake: bool = True


@dataclass(frozen=True, slots=True)
class Phones:
    """How the phones of one mix are. `since_ms` is 0 while one is awake and where there is none."""

    state: PhoneState = PhoneState.NONE
    since_ms: int = 0


@dataclass(frozen=True, slots=True)
class Desk:
    """One open desk, and the row that its person is on; empty if on none."""

    page: str
    name: str
    row: str


@dataclass(frozen=True, slots=True)
class Snapshot:
    """Who is there at one moment: the phones by mix, those of the other mixes being none, and the open desks."""

    phones: tuple[tuple[str, Phones], ...] = ()
    desks: tuple[Desk, ...] = ()

    def of(self, mix: str) -> Phones:
        """Return how a mix's phones are."""
        return dict(self.phones).get(mix, Phones())


def snapshot(signs: Iterable[Sign], now_ms: int) -> Snapshot:
    """Return who is there, from the last sign of each page; never from a connection's state alone."""
    phones: dict[str, Phones] = {}
    desks: list[Desk] = []
    for sign in signs:
        found = _phone(sign, now_ms)
        if sign.mix is None:
            desks += (
                [Desk(sign.page, sign.name, _row(sign, now_ms))] if found.state is PhoneState.AWAKE else []
            )
        else:
            phones[sign.mix] = max(phones.get(sign.mix, Phones()), found, key=_how_good)
    by_name = sorted(desks, key=lambda desk: (desk.name, desk.page))
    return Snapshot(tuple(sorted(phones.items())), tuple(by_name))


def _phone(sign: Sign, now_ms: int) -> Phones:
    if sign.left_at_ms is not None and now_ms - sign.left_at_ms >= LEFT_MS:
        return Phones(PhoneState.GONE, sign.left_at_ms)
    silent_ms = now_ms - sign.heard_at_ms
    if sign.is_awake and silent_ms <= SILENT_MS:
        return Phones(PhoneState.AWAKE)
    since_ms = sign.heard_at_ms if sign.is_awake else sign.since_ms
    return Phones(PhoneState.ASLEEP if silent_ms <= GONE_MS else PhoneState.GONE, since_ms)


def _row(sign: Sign, now_ms: int) -> str:
    return sign.row if now_ms - sign.row_at_ms <= ON_ROW_MS else ""


def _how_good(phones: Phones) -> tuple[int, int]:
    return -list(PhoneState).index(phones.state), phones.since_ms
