"""The show that follows another: begun once, whoever asks for it, at however many desks and workers."""

import hashlib
import hmac
from collections.abc import Callable
from itertools import count
from typing import Final

from monreq.domain.commands import OpenShow
from monreq.domain.refusals import IdTaken
from monreq.domain.show import Show
from monreq.services.ports import Submission
from monreq.services.short_codes import ALPHABET
from monreq.services.shows import Shows

_LETTERS: Final = 4  # short, because it stands in every code
_NAME: Final = "New show"

ShowId = Callable[[str], str]
"""Returns the id of the show that stands for a text: always the same one."""


def show_ids(key: bytes, epoch: str) -> ShowId:
    """Return what makes ids of shows: others for each key, and after each restoring."""

    def show_id(text: str) -> str:
        digest = hmac.new(key, f"show|{epoch}|{text}".encode(), hashlib.sha256).digest()
        return "".join(ALPHABET[byte & 31] for byte in digest[:_LETTERS])

    return show_id


def begin_next(shows: Shows, show_id: ShowId, before: str = "", *, is_demo: bool = False) -> Show:
    """Begin an empty show after another, or the first; return the one that was begun after it before.

    Args:
        shows: All shows.
        show_id: Makes its id.
        before: The show that it follows; empty for the first of all.
        is_demo: Whether it is a demo's.
    """
    submission = Submission("@next", f"after.{before}", "begun")
    for tried in count():
        try:
            return shows.open(show_id(f"{before}/{tried}"), OpenShow(_NAME, is_demo=is_demo), submission).show
        except IdTaken:
            continue  # by chance an earlier show has it
    raise AssertionError("counting has no end")
