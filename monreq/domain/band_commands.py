"""Commands about the band of a show; see `commands` for their manner."""

from dataclasses import dataclass

from monreq.domain.events import DESK


@dataclass(frozen=True, slots=True)
class ChooseBand:
    """Say which stored band plays, by its id."""

    band: str
    by: str = DESK


BandCommand = ChooseBand
