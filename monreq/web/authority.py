"""The host and port part of a URL or a Host header, taken apart strictly."""

import ipaddress
import re
from dataclasses import dataclass
from typing import Final

DEFAULT_PORTS: Final = {"http": 80, "https": 443}

_FORM = re.compile(
    r"(?:\[(?P<six>[0-9A-Fa-f:.]+)\]|(?P<name>[A-Za-z0-9_](?:[A-Za-z0-9_.-]*[A-Za-z0-9_])?)\.?)"
    r"(?::(?P<port>[0-9]{1,5}))?",
    re.ASCII,
)
_LONGEST = 255  # RFC 1035 section 2.3.4: the longest domain name, in octets


@dataclass(frozen=True)
class Authority:
    """A host, in lower case and without a trailing dot, and a port if one was said."""

    host: str
    port: int | None

    def port_or_default(self, scheme: str) -> int | None:
        """The port that a URL of this scheme means."""
        return self.port or DEFAULT_PORTS.get(scheme)


def parse_authority(text: str) -> Authority | None:
    """Take host[:port] apart; None for anything else, user names and bad ports included."""
    match = _FORM.fullmatch(text)
    if match is None or len(text) > _LONGEST:
        return None
    port = int(match["port"]) if match["port"] else None
    if port is not None and not 1 <= port <= 65535:
        return None
    if match["six"] is None:
        return Authority(match["name"].lower(), port)
    address = ip_address(match["six"])
    return Authority(address, port) if address and ":" in address else None


def ip_address(text: str) -> str | None:
    """An IP address in its one canonical text, without a scope; None if it is none."""
    try:
        return str(ipaddress.ip_address(text.partition("%")[0]))
    except ValueError:
        return None


def bracketed(host: str) -> str:
    """A host as a URL carries it."""
    return f"[{host}]" if ":" in host else host
