"""Whether every urgent call that waits, and that nobody saw, is on the pages that a desk looks at."""

from collections.abc import Mapping
from typing import Final

from tests.evenings.forms import Read
from tests.evenings.found import Found
from tests.support.markup import Element

SHOWN_ON: Final = ("desk.show_queue",)
"""Pages that show every open call. Put one here once it does, and take it out below."""

GAPS: Final[Mapping[str, str]] = dict.fromkeys(
    (
        "afterwards.show_afterwards",
        "bands.show_band",
        "book_merging.show_both",
        "book_opening.ask_levels",
        "book_opening.ask_matches",
        "book_opening.show_report",
        "books.show_books",
        "codes.show_codes",
        "keeping.kept_list",
        "keeping.show_kept",
        "levels.show_levels",
        "moments.show_then",
        "prepare.show_setup",
        "songs.show_songs",
    ),
    "desk pages beside the queue have no place for an open call yet",
)
"""Desk pages that show none today, each with the reason."""


def check(endpoint: str, read: Read, calls: list[str]) -> None:
    """Find fault with a page that shows an open call nowhere."""
    hidden = [] if endpoint not in SHOWN_ON else not_shown(read, calls)
    if hidden:
        raise Found("calls", f"{endpoint} does not show the open calls {hidden}")


def not_shown(read: Read, calls: list[str]) -> list[str]:
    """Return the calls, by their requests' ids, that nothing on a page belongs to."""
    shown = {word for one in read.root.every() if _is_seen(one) for word in _told(one)}
    return [one for one in calls if one not in shown]


def _is_seen(one: Element) -> bool:
    return "urgent" in one.attrs.get("class", "").split() or "data-call" in one.attrs


def _told(one: Element) -> set[str]:
    """Return the words of what an element, and all in it, holds in its attributes."""
    return {word for inner in one.every() for value in inner.attrs.values() for word in value.split()}
