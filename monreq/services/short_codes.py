"""Short codes, typed where a camera fails: derived from the key like tokens, and as little stored; pure."""

import hashlib
import hmac
from collections.abc import Iterable
from typing import Final

from monreq.domain.show import Show
from monreq.services.tokens import KEY_BYTES

ALPHABET: Final = "abcdefghijkmnpqrstuvwxyz23456789"
"""Small letters and digits, none of which is mistaken for another when it is typed; 32 of them, 5 bits each."""

LENGTH: Final = 8
"""How many are typed: 40 bits."""

_GROUP: Final = 4


def short_code(key: bytes, show: Show, mix: str) -> str:
    """Return the code that opens a mix now, in two groups for the eye, such as `k7m2-x9qp`.

    Raises:
        ValueError: The key is short.
    """
    if len(key) < KEY_BYTES:
        raise ValueError("a key of 32 bytes is needed")
    message = f"short|{show.id}|{mix}|{show.generation(mix)}".encode("ascii")
    number = int.from_bytes(hmac.new(key, message, hashlib.sha256).digest())
    letters = "".join(ALPHABET[(number >> (5 * place)) & 31] for place in range(LENGTH))
    return f"{letters[:_GROUP]}-{letters[_GROUP:]}"


def meant(typed: str) -> str:
    """Return what was typed as a code is written: spaces, dashes and capitals do not matter."""
    letters = "".join(one for one in typed.lower() if one.isascii() and one.isalnum())
    return f"{letters[:_GROUP]}-{letters[_GROUP:]}"


def find(key: bytes, shows: Iterable[Show], typed: str) -> tuple[Show, str] | None:
    """Return the show and the mix that a typed code opens; None if none.

    Every code is looked at, whichever is right, so that the time taken tells nothing.
    """
    found = None
    wanted = meant(typed)
    for show in shows:
        for mix in show.mixes:
            if hmac.compare_digest(short_code(key, show, mix), wanted):
                found = (show, mix)
    return found
