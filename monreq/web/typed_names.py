"""Finds what a short typing means among named things: a number as shown, or the beginning of a name."""

import unicodedata
from collections.abc import Iterable, Sequence
from typing import TypeVar

Value = TypeVar("Value")


def found(typed: str, things: Sequence[tuple[str, Value]]) -> Value | None:
    """Return the thing meant; None if it is none of them.

    A number counts from 1. Else the first thing whose name begins so is meant, then the first with a word in its name
    that does; a name typed whole goes before all.

    Args:
        typed: What was typed.
        things: Names and what they stand for, in the order in which they are shown.
    """
    wanted = _plain(typed)
    if not wanted:
        return None
    if wanted.isdecimal():
        place = int(wanted) - 1
        return things[place][1] if 0 <= place < len(things) else None
    names = [(_plain(name), thing) for name, thing in things]
    whole = (thing for name, thing in names if name == wanted)
    begins = (thing for name, thing in names if name.startswith(wanted))
    has_word = (thing for name, thing in names if _has_word(name, wanted))
    return next(iter((*whole, *begins, *has_word)), None)


def _has_word(name: str, wanted: str) -> bool:
    return any(word.startswith(wanted) for word in _tails(name.split()))


def _tails(words: Sequence[str]) -> Iterable[str]:
    return (" ".join(words[place:]) for place in range(len(words)))


def _plain(text: str) -> str:
    """Return a text without case, accents and doubled spaces: what a hand in a hurry types."""
    parted = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(one for one in parted if not unicodedata.combining(one))
    return " ".join(unicodedata.normalize("NFKC", bare).split())
