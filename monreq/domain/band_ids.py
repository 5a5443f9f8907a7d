"""What the things of a band are in a show, as it was said when the band was taken over."""

from collections.abc import Mapping
from dataclasses import dataclass

from monreq.domain.carry_events import BandMatched


@dataclass(frozen=True, slots=True)
class BandIds:
    """Ids in a show by ids in a band; empty for what was left out.

    Attributes:
        band: By its id.
    """

    band: str
    sources: Mapping[str, str]
    mixes: Mapping[str, str]


def matched(event: BandMatched) -> BandIds:
    """Return what was said."""
    return BandIds(event.band, dict(event.sources), dict(event.mixes))
