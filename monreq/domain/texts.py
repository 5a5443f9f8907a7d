"""Names and words that people type: made comparable, freed of control characters, bounded."""

import unicodedata

from monreq.domain.refusals import BadId, NameRequired, TextTooLong

NAME_LIMIT = 60  # chosen: the longest that still reads on a strip of a phone, in two lines
ID_LIMIT = 12
WORDS_LIMIT = 200  # chosen: as much as an engineer reads between two songs

# Directional marks could turn a name around on the engineer's screen; joiners are needed by some scripts.
_DIRECTIONAL = frozenset("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u061c")


def clean(text: str, limit: int) -> str:
    """Return a person's text as it is stored: NFC, one line, single spaces, no control characters.

    Raises:
        TextTooLong: More than `limit` characters are left.
    """
    if len(text) > limit * 8:
        raise TextTooLong
    kept = "".join(_kept(character) for character in text)
    line = unicodedata.normalize("NFC", " ".join(kept.split()))
    if len(line) > limit:
        raise TextTooLong
    return line


def clean_name(text: str) -> str:
    """Return the name of a source, musician, mix or show as it is stored.

    Raises:
        NameRequired: Nothing readable is left.
        TextTooLong: It is longer than a name may be.
    """
    name = clean(text, NAME_LIMIT)
    if not any(unicodedata.category(character)[0] in "LNPS" for character in name):
        raise NameRequired
    return name


def clean_words(text: str) -> str:
    """Return a sentence of a person as it is stored; it may be empty."""
    return clean(text, WORDS_LIMIT)


def checked_id(given: str) -> str:
    """Return an id as it was given.

    Raises:
        BadId: It is none: ids stand in addresses.
    """
    if not (0 < len(given) <= ID_LIMIT and given.isascii() and given.isalnum() and given == given.lower()):
        raise BadId
    return given


def _kept(character: str) -> str:
    if character.isspace():
        return " "
    if character in _DIRECTIONAL or unicodedata.category(character) in ("Cc", "Cs", "Co", "Cn"):
        return ""
    return character
