"""Figures as people type them: a change with its sign, a level after `@`, either minus, either decimal mark."""

import re
from dataclasses import dataclass

from monreq.domain.decibels import to_tenths
from monreq.domain.refusals import NotLikeThis
from monreq.web.speech import MINUS, N_, _

_FIGURE = re.compile(r"(@?)([+-]?)(\d{1,3}(?:\.\d+)?)(?:db)?", re.IGNORECASE)
_PAN_WORDS = (N_("left"), N_("right"), N_("middle"))
_PAN = re.compile(r"(left|right|[+-]?)(\d{1,3})")


class UnreadableFigure(NotLikeThis):
    """Type the change with its sign, like +4 or -1.5, or @ and the level read off, like @ -12."""


class UnreadableLevel(NotLikeThis):
    """Type the level as it stands on the desk, like -12 or -4.5."""


class UnreadablePan(NotLikeThis):
    """Type the pan as middle, left 20 or right 20."""


@dataclass(frozen=True, slots=True)
class Figure:
    """What was typed: a change, or a level read off the desk. [0.1 dB]."""

    tenths: int
    is_level: bool


def read_figure(text: str) -> Figure:
    """Read a typed figure.

    A change needs its sign: without it, 4 could be meant as 4 of the 6 dB asked for, in either direction.

    Raises:
        UnreadableFigure: It is neither.
        FinerThanTenths: It is finer than a tenth of a dB.
    """
    match = _FIGURE.fullmatch(_plain(text))
    if match is None:
        raise UnreadableFigure
    at, sign, digits = match.groups()
    tenths = to_tenths(float(digits)) * (-1 if sign == "-" else 1)
    if not at and not sign and tenths:
        raise UnreadableFigure
    return Figure(tenths, is_level=bool(at))


def read_change(text: str) -> int:
    """Read a change with its sign. [0.1 dB].

    Raises:
        UnreadableFigure: It is none, or a level.
    """
    figure = read_figure(text)
    if figure.is_level:
        raise UnreadableFigure("Type the change with its sign, like +3.")
    return figure.tenths


def read_level(text: str) -> int:
    """Read a level on the desk's scale, with or without `@`. [0.1 dB].

    Raises:
        UnreadableLevel: It is not a level.
        FinerThanTenths: It is finer than a tenth of a dB.
    """
    plain = _plain(text).removeprefix("@")
    try:
        return read_figure(f"@{plain}").tenths
    except UnreadableFigure as unreadable:
        raise UnreadableLevel from unreadable


def read_pan(text: str) -> int:
    """Read a pan: middle, left 20, right 100, or a number from -100 to 100. [%].

    Raises:
        UnreadablePan: It is none.
    """
    plain = _plain(text).lower()
    for word in _PAN_WORDS:
        plain = plain.replace(_(word).lower(), word)
    match = _PAN.fullmatch("0" if plain == "middle" else plain)
    if match is None:
        raise UnreadablePan
    side, digits = match.groups()
    return int(digits) * (-1 if side in ("left", "-") else 1)


def _plain(text: str) -> str:
    return re.sub(r"\s+", "", text).replace(MINUS, "-").replace(",", ".")
