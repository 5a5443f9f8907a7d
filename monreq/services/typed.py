"""What is typed at the desk, brought with what the shows before say of it."""

from monreq.domain.band_refusals import UnknownBand
from monreq.domain.commands import Command
from monreq.domain.show import Show
from monreq.domain.typed_commands import EnterTyped
from monreq.domain.unusual import shows_before
from monreq.services.bands import Bands


def to_be_looked_at(bands: Bands, show: Show, command: Command, confirmed: tuple[str, ...]) -> EnterTyped:
    """Return the command that enters what was typed if it makes sense, or if its doubts were confirmed by name.

    A show without a band, or whose band is gone, is held against no other.
    """
    try:
        before = shows_before(show, bands.get(show.band)) if show.band else ()
    except UnknownBand:
        before = ()
    return EnterTyped(command, before, confirmed)
