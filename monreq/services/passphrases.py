"""The desk's passphrase: which ones are taken, and the hash that is kept in their place; pure but for the salt."""

import unicodedata
from typing import Final

from argon2 import PasswordHasher
from argon2.exceptions import VerificationError

from monreq.domain.refusals import NotLikeThis

SHORTEST: Final = 8
LONGEST: Final = 128  # chosen: a sentence; longer ones would only cost the laptop time

# argon2id with 19 MiB, two passes, one lane: OWASP Password Storage Cheat Sheet. A try takes some 20 ms.
_HASHER: Final = PasswordHasher(time_cost=2, memory_cost=19_456, parallelism=1)

# Of 16 random bytes that nobody kept.
_OF_NOBODY: Final = (
    "$argon2id$v=19$m=19456,t=2,p=1$pPFpKOC/ljqE80lmRHEY5w$pxNoINitw0ATWNbSmoZLbBn3Vq3yEpUbU5srV9RBhA4"
)

# chosen: what everybody tries first, and the words of this trade
_COMMON: Final = frozenset(
    word
    for line in (
        "12345678 123456789 1234567890 0123456789 87654321 11223344 1q2w3e4r 1qaz2wsx abcd1234",
        "abcdefgh abc12345 password password1 password12 password123 passw0rd passphrase qwertyui",
        "qwertyuiop qwerty123 asdfghjk asdfghjkl zxcvbnm1 iloveyou sunshine princess football",
        "baseball superman trustno1 whatever welcome1 letmein1 changeme admin123 administrator",
        "soundcheck monitors monitormix monitordesk microphone engineer musician rocknroll",
    )
    for word in line.split()
)


class PassphraseTooShort(NotLikeThis):
    """A passphrase has at least 8 characters."""


class PassphraseTooLong(NotLikeThis):
    """A passphrase has at most 128 characters."""


class PassphraseTooCommon(NotLikeThis):
    """That is among the first that anybody would try. Choose another, such as four words that do not belong together."""


def keep(passphrase: str) -> str:
    """Return what is stored of a new passphrase: a salted argon2id hash.

    Raises:
        PassphraseTooShort, PassphraseTooLong, PassphraseTooCommon: It is not taken.
    """
    text = _normal(passphrase)
    if len(text) < SHORTEST:
        raise PassphraseTooShort
    if len(text) > LONGEST:
        raise PassphraseTooLong
    if text.lower() in _COMMON or len(set(text)) == 1:
        raise PassphraseTooCommon
    return _HASHER.hash(text)


def is_right(kept: str | None, passphrase: str) -> bool:
    """Tell whether a passphrase is the one that was kept; it takes as long where none is."""
    text = _normal(passphrase)[:LONGEST]
    try:
        _HASHER.verify(kept or _OF_NOBODY, text)
    except VerificationError:
        return False
    return kept is not None and len(_normal(passphrase)) <= LONGEST


def _normal(passphrase: str) -> str:
    return unicodedata.normalize("NFC", passphrase)
