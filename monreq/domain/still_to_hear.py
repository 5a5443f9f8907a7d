"""The decisions about which the phones of a mix still ask how it sounds."""

from monreq.domain.decisions import Decision
from monreq.domain.show import Show


def to_hear(show: Show, mix: str) -> tuple[Decision, ...]:
    """Return the decisions about which the phones of a mix ask, the oldest first."""
    return tuple(show.decisions[one] for one in show.to_hear.get(mix, ()))
