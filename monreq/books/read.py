"""Reads a band book of any version up to the newest, and says of a damaged one where it is damaged."""

import json
from collections.abc import Callable, Mapping
from typing import IO, Any, Final

from pydantic import ValidationError

from monreq.books import model as m
from monreq.books.bands import band_of
from monreq.books.refusals import BookDamaged, BookFromTheFuture, BookTooLarge, NotABook
from monreq.domain.band import Band

LARGEST_BYTES: Final = 20 * 1024 * 1024  # chosen: sixty mixes of sixty sources, each kept fifty times

Step = Callable[[dict[str, Any]], dict[str, Any]]

STEPS: Final[Mapping[int, Step]] = {}
"""What turns a book of one version into the next: a change of the format adds one here, and none is ever removed."""


def read_book(file: IO[bytes]) -> Band:
    """Read a band book.

    Returns:
        The band, with the ids and the order of the file.

    Raises:
        BookTooLarge: It is larger than 20 MB; no more than that is read.
        NotABook: It is something else.
        BookFromTheFuture: A newer monreq wrote it.
        BookDamaged: Something is missing in it or not as it should be; the sentence says where.
    """
    content = file.read(LARGEST_BYTES + 1)
    if len(content) > LARGEST_BYTES:
        raise BookTooLarge
    document = upgraded(_document(content), m.VERSION, STEPS)
    try:
        return band_of(m.BandBook.model_validate(document))
    except ValidationError as error:
        raise BookDamaged(_where(error)) from error


def upgraded(document: dict[str, Any], newest: int, steps: Mapping[int, Step]) -> dict[str, Any]:
    """Return a book as the newest version has it, one step after another.

    Raises:
        BookDamaged: It says no version.
        BookFromTheFuture: Its version is newer than the newest that is known.
    """
    version = document.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise BookDamaged("This band book is damaged: it does not say which version it is.")
    if version > newest:
        raise BookFromTheFuture
    for step in range(version, newest):
        document = {**steps[step](document), "version": step + 1}
    return document


def _document(content: bytes) -> dict[str, Any]:
    try:
        document = json.loads(_text(content), parse_constant=_no_number, object_pairs_hook=_without_doubles)
    except json.JSONDecodeError as error:
        if not content.lstrip().startswith((b"{", b"\xef\xbb\xbf{")):
            raise NotABook from error
        raise BookDamaged(
            f"This band book is damaged or cut off: line {error.lineno}, column {error.colno}."
        ) from error
    except RecursionError as error:
        raise NotABook from error
    except ValueError as error:  # a figure of thousands of digits
        raise BookDamaged("This band book is damaged: a figure in it has no end.") from error
    if not isinstance(document, dict) or document.get("format") != m.FORMAT:
        raise NotABook
    return document


def _text(content: bytes) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if not content.lstrip().startswith(b"{"):
            raise NotABook from error
        line = content.count(b"\n", 0, error.start) + 1
        raise BookDamaged(f"This band book is damaged: line {line} is not text.") from error


def _no_number(constant: str) -> float:
    raise BookDamaged(f"This band book is damaged: {constant} is no figure.")


def _without_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        keys = [key for key, _ in pairs]
        doubled = next(key for key in keys if keys.count(key) > 1)
        raise BookDamaged(f"This band book is damaged: {doubled[:40]!r} stands twice in one place.")
    return found


def _where(error: ValidationError) -> str:
    """Return the first thing that is wrong, with the way to it: band.sources[3].name."""
    first = error.errors(include_url=False, include_input=False)[0]
    way = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in first["loc"]).lstrip(".")
    return f"This band book is damaged at {way[:200] or 'its beginning'}: {first['msg'][:200]}."
