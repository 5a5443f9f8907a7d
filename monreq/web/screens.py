"""Which screen a page belongs to: a desk and phones may be open in one browser, and each keeps its own choices."""

from flask import request

DESK, PHONE = "desk", "phone"
CHOOSING = "/language"
"""Where choices of a screen are made; `back` says of which."""

_ONLY_FROM_THE_DESK = ("/desk", "/reckoning")


def screen_of(path: str) -> str:
    """Return whose choices a page goes by."""
    path = path.partition("?")[0]
    return DESK if path in _ONLY_FROM_THE_DESK or path.startswith("/desk/") else PHONE


def screen_of_request() -> str:
    """Return whose choices the page that is asked for goes by."""
    asked_from = request.args.get("back", "") if request.path.startswith(CHOOSING) else request.path
    return screen_of(asked_from)


def own_path(path: str) -> str:
    """Return a path of this server; anything else leads to the front page."""
    is_own = path.startswith("/") and not path.startswith(("//", "/\\")) and "\n" not in path
    return path if is_own else "/"
