"""What people type in Prepare beside levels: amounts in dB, times, counts, metres and degrees."""

import re

from monreq.domain.refusals import NotLikeThis
from monreq.web import wording
from monreq.web.figures import UnreadableLevel, read_level
from monreq.web.speech import MINUS, decimal

_TIME = re.compile(r"(?:(\d{1,3}):(\d{2})|(\d{1,4})s?)", re.IGNORECASE)

_COUNT = re.compile(r"\d{0,3}", re.ASCII)
_NUMBERS = re.compile(r"[\s,]*(?:\d{1,3}[\s,]*){0,99}", re.ASCII)
_METRES = re.compile(r"[+-]?(?:\d{1,4}(?:\.\d{0,2})?|\.\d{1,2})", re.ASCII)
_DEGREES = re.compile(r"(?:[+-]?\d{1,3})?", re.ASCII)


class UnreadableAmount(NotLikeThis):
    """Type dB as a figure, like 3 or 1.5."""


class UnreadableCount(NotLikeThis):
    """Type a count as a whole number, like 8."""


class UnreadableNumbers(NotLikeThis):
    """Type aux numbers with spaces between them, like 7 8."""


class UnreadablePlace(NotLikeThis):
    """Type metres like 1.5 or -2, and degrees like 90."""


class UnreadableTime(NotLikeThis):
    """Type a time as minutes and seconds, like 4:00, or in seconds, like 30."""


def read_amount(text: str) -> int:
    """Read dB, with or without the unit; an empty field is 0. [0.1 dB].

    Raises:
        UnreadableAmount: It is no figure.
        FinerThanTenths: It is finer than a tenth of a dB.
    """
    try:
        return read_level(text.strip() or "0")
    except UnreadableLevel as unreadable:
        raise UnreadableAmount from unreadable


def read_time_s(text: str) -> int:
    """Read how long something lasts: 4:00 or 240. [s].

    Raises:
        UnreadableTime: It is neither.
    """
    match = _TIME.fullmatch(re.sub(r"\s+", "", text))
    if match is None or int(match[2] or 0) >= 60:
        raise UnreadableTime
    minutes, seconds, alone = match.groups()
    return int(alone) if alone else int(minutes) * 60 + int(seconds)


def amount(tenths: int) -> str:
    """Return dB as a field shows them: 3, 1.5, with a true minus."""
    return wording.figure(tenths)


def time(seconds: int) -> str:
    """Return a time as a field shows it: 4:00."""
    return f"{seconds // 60}:{seconds % 60:02d}"


def read_count(text: str) -> int:
    """Read how many there are; an empty field is none.

    Raises:
        UnreadableCount: It is no whole number.
    """
    if not _COUNT.fullmatch(text.strip()):
        raise UnreadableCount
    return int(text.strip() or 0)


def read_numbers(text: str) -> tuple[int, ...]:
    """Read numbers of auxes, parted by spaces or commas; there may be none.

    Raises:
        UnreadableNumbers: Something else stands between them.
    """
    if not _NUMBERS.fullmatch(text):
        raise UnreadableNumbers
    return tuple(int(number) for number in text.replace(",", " ").split())


def read_metres(text: str) -> int | None:
    """Read a distance in metres, with or without the unit; None if the field is empty. [cm].

    Raises:
        UnreadablePlace: It is no distance in whole centimetres.
    """
    plain = re.sub(r"\s+", "", text).replace(MINUS, "-").replace(",", ".").lower().removesuffix("m")
    if not plain:
        return None
    if not _METRES.fullmatch(plain):
        raise UnreadablePlace
    return round(float(plain) * 100)


def read_degrees(text: str) -> int:
    """Read where somebody faces; an empty field is towards the audience. [degrees].

    Raises:
        UnreadablePlace: It is no whole number of degrees.
    """
    plain = re.sub(r"\s+", "", text).replace(MINUS, "-").removesuffix("\N{DEGREE SIGN}")
    if not _DEGREES.fullmatch(plain):
        raise UnreadablePlace
    return int(plain or 0)


def metres(centimetres: int) -> str:
    """Return a distance as a field shows it: 1.5, with a true minus."""
    sign = MINUS if centimetres < 0 else ""
    return sign + decimal(f"{abs(centimetres) / 100:.2f}".rstrip("0").removesuffix("."))
