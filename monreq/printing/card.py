"""What stands on a card, apart from how it is drawn, so that it can be said without loading what draws."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Card:
    """What one card says: whose mix, and the address that opens it."""

    show_name: str
    mix_name: str
    detail: str
    """Where the mix comes out, such as "wedge, aux 1"."""
    musicians: tuple[str, ...]
    url: str
    short_code: str = ""
    """Typed on the front page where a camera fails."""


@dataclass(frozen=True, slots=True)
class Wifi:
    """The network that phones join; an open one has an empty password."""

    network: str
    password: str
    hidden: bool = False
