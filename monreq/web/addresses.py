"""Under which address phones and the desk's own browser reach this machine."""

import ipaddress
import re
import socket
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final
from urllib.parse import urlsplit

import psutil

from monreq.web.authority import DEFAULT_PORTS, bracketed, ip_address, parse_authority

_EVERYWHERE: Final = ("", "0.0.0.0", "::")  # noqa: S104 - compared with, not bound
_PROBE: Final = ("192.0.2.1", 9)  # RFC 5737: an address for documentation, nobody's
_PRIVATE: Final = tuple(
    map(ipaddress.ip_network, ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16"))  # RFC 1918
)
# Common interface names, no source: system manuals name them one by one.
_PHYSICAL = re.compile(r"(wl|en|eth|em\d|wi-?fi|wlan|ethernet|local area connection)", re.IGNORECASE)
_VIRTUAL = re.compile(
    r"(docker|br-|veth|virbr|vmnet|vbox|tun|tap|wg|utun|zt|ppp|ipsec|gif|stf|awdl|llw|anpi|bridge"
    r"|cni|flannel|cali|podman|lxc|lxd|vethernet|dummy)|.*(virtual|vpn|host-only|wsl|tunnel)",
    re.IGNORECASE,
)


class AddressError(Exception):
    """An address that codes cannot carry; its text is one sentence."""


@dataclass(frozen=True)
class Interface:
    """A network interface and its IP addresses, as the system tells them."""

    name: str
    is_up: bool
    addresses: tuple[str, ...]


@dataclass(frozen=True)
class Candidate:
    """An address that phones may reach, and why it stands where it does in the list."""

    address: str
    interface: str
    why: str


def interfaces() -> list[Interface]:
    """Ask the system for its network interfaces."""
    states = psutil.net_if_stats()
    families = (socket.AF_INET, socket.AF_INET6)
    return [
        Interface(
            name,
            name in states and states[name].isup,
            tuple(entry.address for entry in entries if entry.family in families),
        )
        for name, entries in psutil.net_if_addrs().items()
    ]


def own_addresses(found: Iterable[Interface]) -> frozenset[str]:
    """All IP addresses of this machine, as a Host header would carry them."""
    texts = (ip_address(text) for interface in found for text in interface.addresses)
    return frozenset(text for text in texts if text)


def routed_address() -> str | None:
    """The address the system would send from; nothing is sent to find it out."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(_PROBE)
        except OSError:
            return None
        return str(probe.getsockname()[0])


def lan_addresses() -> list[Candidate]:
    """This machine's addresses, the one that phones most likely reach first."""
    return rank(interfaces(), routed_address())


def rank(found: Iterable[Interface], routed: str | None) -> list[Candidate]:
    """Order addresses by how likely phones in the same network reach them.

    Args:
        found: The machine's interfaces.
        routed: The address the system sends from; decides between equals.
    """
    up = [(face, text) for face in found if face.is_up for text in _usable(face)]
    outward = [pair for pair in up if not ipaddress.ip_address(pair[1]).is_loopback]
    # Several IPv6 loopbacks would be no help: IPv4 sorts before them.
    chosen = outward or up
    chosen.sort(key=lambda pair: (_standing(*pair), pair[1] != routed))
    return [Candidate(text, face.name, _why(face, text)) for face, text in chosen]


# A link-local IPv6 address needs a scope, and a browser takes none.
def _usable(interface: Interface) -> list[str]:
    texts = (ip_address(text) for text in interface.addresses)
    return [text for text in texts if text and not text.startswith("fe80:")]


def _standing(interface: Interface, address: str) -> tuple[int, ...]:
    parsed = ipaddress.ip_address(address)
    is_private = any(parsed in network for network in _PRIVATE)
    return parsed.is_link_local, _tier(interface.name), parsed.version, not is_private


def _tier(name: str) -> int:
    if _VIRTUAL.match(name):
        return 2
    return 0 if _PHYSICAL.match(name) else 1


def _why(interface: Interface, address: str) -> str:
    parsed = ipaddress.ip_address(address)
    if parsed.is_loopback:
        return "reaches this machine only"
    if parsed.is_link_local:
        return "self-assigned: no router gave this machine an address"
    is_private = any(parsed in network for network in _PRIVATE)
    kind = "private address" if is_private else "not a private IPv4 address"
    places = ("on Wi-Fi or Ethernet", "on an unknown interface", "on a virtual interface")
    return f"{kind} {places[_tier(interface.name)]}"


def base_url(host: str, port: int, address: str | None, found: Sequence[Candidate]) -> str:
    """The URL that codes carry, without a slash at its end.

    Args:
        host: What the server binds.
        port: The TCP port it listens on.
        address: What the user wants codes to carry: a host, host:port or http(s) URL.
        found: This machine's addresses, best first.

    Raises:
        AddressError: If the wanted address is none, or this machine has no address.
    """
    if address:
        return _wanted_url(address, port)
    if host not in _EVERYWHERE:
        return _url("http", host, port)
    if not found:
        raise AddressError("This machine has no network address: join a network or use --address.")
    return _url("http", found[0].address, port)


def desk_url(host: str, port: int) -> str:
    """The URL for a browser on this machine, which stays on it where the server allows that."""
    if host in ("::", "::1"):
        return _url("http", "::1", port)
    inside = host in _EVERYWHERE or host == "localhost" or host.startswith("127.")
    return _url("http", "127.0.0.1" if inside else host, port)


def _wanted_url(address: str, port: int) -> str:
    scheme, separator, rest = address.partition("://")
    if not separator:
        literal = None if "%" in address else ip_address(address)
        scheme, rest = "http", bracketed(literal) if literal else address
    authority = parse_authority(rest.removesuffix("/"))
    if authority is None or scheme not in DEFAULT_PORTS:
        raise AddressError(f"The address {address!r} is not a host, host:port or http(s) URL.")
    if authority.port is None and not separator:
        return _url(scheme, authority.host, port)
    return _url(scheme, authority.host, authority.port_or_default(scheme))


def _url(scheme: str, host: str, port: int | None) -> str:
    end = "" if port == DEFAULT_PORTS[scheme] else f":{port}"
    return f"{scheme}://{bracketed(host)}{end}"


def host_of(url: str) -> str:
    """The host of a URL made here, as a Host header would carry it."""
    return urlsplit(url).hostname or ""


def port_of(url: str) -> int:
    """The TCP port of a URL made here, whether it says it or not."""
    parts = urlsplit(url)
    return parts.port or DEFAULT_PORTS[parts.scheme]
