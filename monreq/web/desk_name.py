"""What this desk is called, such as front of house or stage side: kept in its browser's cookie, told to other desks."""

from collections.abc import Mapping
from typing import Any

from flask import session

from monreq.domain.texts import NAME_LIMIT, clean

_SESSION_KEY = "desk_name"


def desk_name() -> str:
    """Return the name that this browser's desk has; empty if it was given none."""
    return desk_name_in(session)


def desk_name_in(cookie: Mapping[str, Any]) -> str:
    """Return a desk's name out of a cookie's content, also where there is no request."""
    return str(cookie.get(_SESSION_KEY, ""))


def call_this_desk(name: str) -> None:
    """Keep a name; an empty one takes it away.

    Raises:
        TextTooLong: It is longer than a name may be.
    """
    session[_SESSION_KEY] = clean(name, NAME_LIMIT)
