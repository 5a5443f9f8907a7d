"""How often what opens something may be guessed: by one address, and by all together; a newcomer is always heard.

An attacker with many guesses uses up the common measure of those who have tried before. An address that never
tried has a measure of its own, so that the right words typed once, by somebody else, still open what they open.
"""

import ipaddress
from dataclasses import dataclass
from typing import Final

from flask import request

from monreq.domain.refusals import TooMuch
from monreq.web.context import web
from monreq.web.pace import Rate

_FIRST_TRY: Final = Rate(1, 1 / 3600)  # chosen: who was quiet for an hour counts as new
_HOUSEHOLD: Final = 64  # an IPv6 host has this many bits of its network to itself, RFC 4291 section 2.5.4


class TooManyTries(TooMuch):
    """That was tried too often. Wait a minute, or ask the engineer."""


@dataclass(frozen=True, slots=True)
class Tries:
    """What may be tried of one kind.

    Attributes:
        kind: Tells one kind's counts from another's.
        each: By one address.
        again: By all addresses together that tried before.
        first: By all addresses together that never did.
    """

    kind: str
    each: Rate
    again: Rate
    first: Rate

    def count(self) -> None:
        """Count one try of the address that asks.

        Raises:
            TooManyTries: It has no more, or nobody has.
        """
        address = _network(request.remote_addr or "")
        pool = (
            ("first", self.first) if self._is_within(f"new {address}", _FIRST_TRY) else ("again", self.again)
        )
        if not (self._is_within(f"of {address}", self.each) and self._is_within(*pool)):
            raise TooManyTries

    def _is_within(self, whose: str, rate: Rate) -> bool:
        return web().pace.lets_through(f"{self.kind} {whose}", rate, web().monotonic_s())


# chosen: a person mistypes a few times; 40 bits stand behind a short code, and this many guesses an hour are nothing
SHORT_CODES: Final = Tries("short code", each=Rate(20, 1 / 10), again=Rate(100, 1 / 2), first=Rate(300, 1))
# chosen: fewer, because people choose weak words, and each try costs the laptop 19 MiB and some 20 ms
PASSPHRASES: Final = Tries("passphrase", each=Rate(10, 1 / 30), again=Rate(30, 1 / 5), first=Rate(60, 1 / 5))
# chosen: codes are scanned, so a wrong one is a rarity; nobody guesses 128 bits, this keeps the log readable
LINKS: Final = Tries("link", each=Rate(40, 1), again=Rate(400, 10), first=Rate(400, 10))


def _network(address: str) -> str:
    """Return what one sender cannot change at will: an IPv4 address, or the network part of an IPv6 one."""
    try:
        ip = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return "unknown"
    if ip.version == 6 and ip.ipv4_mapped is None:
        return str(ipaddress.ip_network((int(ip), _HOUSEHOLD), strict=False))
    return str(ip.ipv4_mapped or ip) if ip.version == 6 else str(ip)
