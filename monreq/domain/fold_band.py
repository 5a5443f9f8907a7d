"""How events about the show's band change the state."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain.band_events import BandChosen
from monreq.domain.show import Show


def band_chosen(show: Show, event: BandChosen, _: e.Recorded) -> Show:
    """Keep which band plays."""
    return replace(show, band=event.band)
