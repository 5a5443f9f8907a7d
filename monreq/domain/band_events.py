"""Events about the band of a show; see `events` for their manner."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BandChosen:
    """It was said which stored band plays."""

    band: str


BandEvent = BandChosen
