"""Desk notes: a short text from the desk to one phone or all, and what the phones say to it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

NOTE_LIMIT: Final = 48  # chosen: what a phone shows whole beside three replies, in four short lines
MOST_TEXTS: Final = 12  # chosen: what a hand finds at the desk without reading a list
MOST_KEPT: Final = 20  # chosen: an evening's last notes; older ones stay in the log

START_TEXTS: Final = (
    "two minutes",
    "you are next",
    "please play now",
    "please stop playing",
    "after this song",
    "come to the desk",
)
"""What the desk can send with one press until a show says otherwise."""


class Reply(StrEnum):
    """What a thumb says to a note."""

    OK = "ok"
    NOT_YET = "not_yet"
    COME_HERE = "come_here"


@dataclass(frozen=True, slots=True)
class Replied:
    """A reply to a note. [ms since 1970, UTC]."""

    musician: str
    reply: Reply
    at_ms: int


@dataclass(frozen=True, slots=True)
class DeskNote:
    """A note that was sent.

    Attributes:
        mixes: Whose phones it was sent to.
        replies: The latest of each mix, by id.
        is_taken_back: Whether the desk took it back: no phone shows it any more.
    """

    id: str
    words: str
    mixes: tuple[str, ...]
    at_ms: int
    replies: Mapping[str, Replied] = field(default_factory=dict)
    is_taken_back: bool = False

    def reply_of(self, mix: str) -> Reply | None:
        """Return what a mix says to it, None if nothing yet."""
        replied = self.replies.get(mix)
        return None if replied is None else replied.reply


def note_on_phone(notes: Mapping[str, DeskNote], mix: str) -> DeskNote | None:
    """Return the note that a mix's phone shows: the newest without a reply, else the newest that is not settled."""
    newest_first = [
        one for one in reversed(list(notes.values())) if mix in one.mixes and not one.is_taken_back
    ]
    unanswered = [one for one in newest_first if one.reply_of(mix) is None]
    put_off = [one for one in newest_first if one.reply_of(mix) is Reply.NOT_YET]
    return next(iter([*unanswered, *put_off]), None)
