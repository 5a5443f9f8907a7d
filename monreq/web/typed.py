"""What people type in Prepare beside levels: amounts in dB, how long something lasts, metres and degrees."""

import re

from monreq.domain.refusals import NotLikeThis
from monreq.web import wording
from monreq.web.figures import UnreadableLevel, read_level

_TIME = re.compile(r"(?:(\d{1,3}):(\d{2})|(\d{1,4})s?)", re.IGNORECASE)


class UnreadableAmount(NotLikeThis):
    """Type dB as a figure, like 3 or 1.5."""


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
