"""A show and its band: a band begun for a show, and a show begun from a band."""

from monreq.domain.band import Band
from monreq.domain.band_commands import ChooseBand
from monreq.domain.carry_choices import match_band, proposed
from monreq.domain.carry_commands import DoTogether
from monreq.domain.carry_over import carry_over
from monreq.domain.commands import OpenShow
from monreq.domain.show import Show
from monreq.services.bands import Bands
from monreq.services.ports import Submission
from monreq.services.shows import Receipt, Shows


def begin_band(
    shows: Shows, bands: Bands, show: Show, name: str, submission: Submission | None = None
) -> Band:
    """Begin a band with a show's line-up, and let it be the show's; repeated, nothing is doubled."""
    band = bands.begin(name, show, submission)
    shows.submit(show.id, ChooseBand(band.id))
    return band


def open_show_from(shows: Shows, band: Band, show_id: str, opening: OpenShow) -> Receipt:
    """Begin a show with a band's line-up and its newest kept mixes, under the same ids."""
    empty = shows.open(show_id, opening).show
    carried = carry_over(band, empty, proposed(band, empty, match_band(band, empty)))
    return shows.submit(show_id, DoTogether((ChooseBand(band.id), *carried.command.commands)))
