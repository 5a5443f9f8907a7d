"""Figures as the JSON interface carries them: dB with one decimal, pan from -1 to 1, times in UTC."""

from datetime import UTC, datetime
from typing import Literal

from monreq.domain.decibels import to_db
from monreq.domain.refusals import NotLikeThis
from monreq.domain.requests import Kind
from monreq.domain.setup import Setting


class FinerThanHundredths(NotLikeThis):
    """Pan is given in whole hundredths, from -1, left, to +1, right."""


def db_or_null(tenths: int | None) -> float | None:
    """Return a level or a change in dB. [dB]."""
    return None if tenths is None else to_db(tenths)


def pan_or_null(percent: int | None) -> float | None:
    """Return a pan, or a change of one, where 1 is a whole side."""
    return None if percent is None else percent / 100


def level_or_null(setting: Setting | None) -> float | None:
    """Return the level of a send that is on. [dB]."""
    return to_db(setting.level_tenths) if setting is not None and setting.is_on else None


def rounded_or_null(db: float | None) -> float | None:
    """Return an estimate in dB to the tenth, without a negative nothing. [dB]."""
    return None if db is None else round(db, 1) + 0.0


def to_percent(pan: float) -> int:
    """Turn a pan, or a change of one, into whole percents, exactly or not at all.

    Raises:
        FinerThanHundredths: It does not fall on a whole one.
    """
    percent = round(pan * 100)
    if percent / 100 != pan:
        raise FinerThanHundredths
    return percent


def moment(at_ms: int) -> datetime:
    """Return a time in UTC from milliseconds since 1970."""
    return datetime.fromtimestamp(at_ms / 1000, UTC)


def in_db(kind: Kind | None, amount: int | None) -> float | None:
    """Return an amount that is one of level. [dB]."""
    return db_or_null(amount) if kind is Kind.LEVEL else None


def in_pan(kind: Kind | None, amount: int | None) -> float | None:
    """Return an amount that is one of pan, where 1 is a whole side."""
    return pan_or_null(amount) if kind is Kind.PAN else None


def in_out(kind: Kind | None, amount: int | None) -> Literal["in", "out"] | None:
    """Return an amount that is in or out; None where it is neither."""
    if kind is not Kind.IN_OUT or not amount:
        return None
    return "in" if amount > 0 else "out"
