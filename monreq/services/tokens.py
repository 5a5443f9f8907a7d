"""Tokens that open the desk, one mix or the stage tablet: made from the key, never stored; pure."""

import base64
import hashlib
import hmac
import re
from dataclasses import dataclass
from enum import Enum
from typing import Final, Self

KEY_BYTES: Final = 32
"""Length of the secret that tokens are made from. [bytes]"""

_MAC_BYTES: Final = 16  # 128 bits, the entropy that a capability URL needs
_FORM = re.compile(r"([a-z0-9]{1,12})(?:-([a-z0-9]{1,12})|(~))?\.([A-Za-z0-9_-]{22})", re.ASCII)
_ID = re.compile(r"[a-z0-9]{1,12}", re.ASCII)


def fingerprint_of(key: bytes) -> str:
    """Return what tells one key from another and opens nothing; may be read by anybody."""
    return hashlib.sha256(b"fingerprint:" + key).hexdigest()[:16]


class MalformedTokenError(ValueError):
    """A text that is not a token at all."""


@dataclass(frozen=True)
class Subject:
    """What a token opens: one mix, or the desk or the stage tablet of a show.

    Attributes:
        mix: The mix's id; None for the others.
        is_tablet: Whether it is the tablet, else without a mix the desk.
    """

    mix: str | None
    is_tablet: bool = False

    @property
    def text(self) -> str:
        """The subject as the MAC covers it; a mix that is called desk differs from the desk."""
        if self.is_tablet:
            return "tablet"
        return "desk" if self.mix is None else f"mix:{self.mix}"


DESK: Final = Subject(mix=None)
TABLET: Final = Subject(mix=None, is_tablet=True)


class Verdict(Enum):
    """What became of a token that was shown."""

    VALID = "valid"
    REPLACED = "replaced"
    FORGED = "forged"


@dataclass(frozen=True)
class Token:
    """A token as it was read; nothing is known of it until it is verified."""

    show: str
    subject: Subject
    mac: str

    @classmethod
    def parse(cls, text: str) -> Self:
        """Take a token's text apart.

        Raises:
            MalformedTokenError: If the text has not the form of a token.
        """
        match = _FORM.fullmatch(text)
        if match is None:
            raise MalformedTokenError("This is not a token.")
        show, mix, tablet, mac = match.groups()
        return cls(show, Subject(mix, is_tablet=tablet is not None), mac)

    def verify(self, key: bytes, generation: int) -> Verdict:
        """Judge the token against the subject's present generation.

        Args:
            key: The secret that tokens are made from.
            generation: Counts how often the subject's code was replaced; 0 is the first code.
        """
        if self._is_of(key, generation):
            return Verdict.VALID
        replaced = [self._is_of(key, earlier) for earlier in range(generation)]
        return Verdict.REPLACED if any(replaced) else Verdict.FORGED

    # The text is compared, not the decoded bytes: several texts decode to the same bytes.
    def _is_of(self, key: bytes, generation: int) -> bool:
        return hmac.compare_digest(self.mac, _mac(key, self.show, self.subject, generation))


def make_token(key: bytes, show: str, subject: Subject, generation: int) -> str:
    """Make the token of a subject; the same arguments always make the same token.

    Raises:
        ValueError: If the key is short, an id is not an id, or the generation is below zero.
    """
    ids = [show] if subject.mix is None else [show, subject.mix]
    if not all(_ID.fullmatch(part) for part in ids):
        raise ValueError(f"not ids of 1 to 12 small letters and digits: {ids}")
    return f"{'-'.join(ids)}{'~' if subject.is_tablet else ''}.{_mac(key, show, subject, generation)}"


def _mac(key: bytes, show: str, subject: Subject, generation: int) -> str:
    if len(key) < KEY_BYTES or generation < 0:
        raise ValueError("a key of 32 bytes and a generation from 0 are needed")
    message = f"{show}|{subject.text}|{generation}".encode("ascii")
    digest = hmac.new(key, message, hashlib.sha256).digest()[:_MAC_BYTES]
    return base64.urlsafe_b64encode(digest).decode("ascii").rstrip("=")
