"""What the desk says of the show's band."""

from monreq.domain import band_commands as b
from monreq.domain.band_events import BandChosen
from monreq.domain.events import Event
from monreq.domain.show import Show
from monreq.domain.texts import checked_id


def choose_band(show: Show, command: b.ChooseBand) -> tuple[Event, ...]:
    """Say which stored band plays; whether it is stored is not the log's to know."""
    band = checked_id(command.band)
    return () if band == show.band else (BandChosen(band),)
