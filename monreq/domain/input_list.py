"""An input list as somebody typed or pasted it: a source a line, with guesses that the engineer corrects."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from monreq.domain.input_words import guessed_kind, guessed_use, says_acoustic, says_stereo
from monreq.domain.refusals import NotLikeThis, Refusal
from monreq.domain.setup import SourceKind, SourceUse
from monreq.domain.texts import clean_name

LINES_LIMIT: Final = 200  # chosen: more inputs than any stage of one band has

_NUMBER: Final = re.compile(
    r"(?:ch(?:annel)?\.?\s*)?\d{1,3}(?:\s*[.):;]\s*|\s+(?:[-\u2013\u2014]\s*)?|\t+)", re.IGNORECASE
)
_COLUMNS: Final = re.compile(r"[\t;]")
_BOTH_SIDES: Final = re.compile(r"[\s(]*\bl\s*[/+&-]\s*r\b\)?$", re.IGNORECASE)
_SIDE: Final = re.compile(r"[\s(]+(l|left|r|right)\)?$", re.IGNORECASE)


class NothingListed(NotLikeThis):
    """There is no line with a name in it: type one source a line."""


class TooManyListed(NotLikeThis):
    """That is more than 200 lines: part the list."""


class ListedTwice(NotLikeThis):
    """One name stands in two lines: give each a name of its own."""


class LineNotRead(NotLikeThis):
    """One line cannot be read."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A source as its line says, and as its name lets guess."""

    name: str
    kind: SourceKind
    use: SourceUse
    is_stereo: bool
    is_acoustic: bool = False


def read_input_list(text: str) -> list[Listed]:
    """Read an input list.

    A number before the name is left out, and so is what stands behind a tab or semicolon, but for its words, which
    help to guess. `Keys L` followed by `Keys R` is one stereo source, and so is `Keys L/R`.

    Raises:
        NothingListed: It has no line with a name.
        TooManyListed: It has more lines than `LINES_LIMIT`.
        ListedTwice: Two lines have one name.
        LineNotRead: A name is too long.
    """
    listed = list(_joined(_read(number, line) for number, line in lines_of(text)))
    if not listed:
        raise NothingListed
    check_once(one.name for one in listed)
    return listed


def lines_of(text: str) -> list[tuple[int, str]]:
    """Return the lines that say something, with their numbers.

    Raises:
        TooManyListed: There are more than `LINES_LIMIT`.
    """
    lines = [(number, line.strip()) for number, line in enumerate(text.splitlines(), 1) if line.strip()]
    if len(lines) > LINES_LIMIT:
        raise TooManyListed
    return lines


def read_name(number: int, name: str) -> str:
    """Return a name as it is stored.

    Raises:
        LineNotRead: It cannot be one; the sentence says in which line.
    """
    try:
        return clean_name(name)
    except Refusal as refusal:
        raise LineNotRead(
            "Line %(number)s cannot be read: a name has 1 to 60 characters.", number=number
        ) from refusal


def check_once(names: Iterable[str]) -> None:
    """Refuse names that cannot be told apart.

    Raises:
        ListedTwice: Two are alike but for case.
    """
    seen: set[str] = set()
    for name in names:
        if name.casefold() in seen:
            raise ListedTwice("%(name)s stands in two lines: give each a name of its own.", name=name)
        seen.add(name.casefold())


def _read(number: int, line: str) -> Listed:
    first, *others = _COLUMNS.split(_NUMBER.sub("", line, count=1) if _NUMBER.match(line) else line)
    both = _BOTH_SIDES.search(first)
    name = read_name(number, first[: both.start()] if both else first)
    hint = " ".join([name, *others])
    kind = guessed_kind(hint)
    is_acoustic = kind is SourceKind.DIRECT and says_acoustic(hint)
    return Listed(name, kind, guessed_use(hint), bool(both) or says_stereo(hint), is_acoustic)


def _joined(listed: Iterable[Listed]) -> Iterator[Listed]:
    """Give the sources, with a left and a right that follow one another as one."""
    before: Listed | None = None
    for one in listed:
        if before is not None and _are_sides(before.name, one.name):
            yield replace(before, name=_without_side(before.name), is_stereo=True)
            before = None
            continue
        if before is not None:
            yield before
        before = one
    if before is not None:
        yield before


def _are_sides(first: str, second: str) -> bool:
    one, other = _SIDE.search(first), _SIDE.search(second)
    if one is None or other is None:
        return False
    is_left_then_right = (one[1][0].casefold(), other[1][0].casefold()) == ("l", "r")
    return is_left_then_right and _without_side(first).casefold() == _without_side(second).casefold()


def _without_side(name: str) -> str:
    return _SIDE.sub("", name)
