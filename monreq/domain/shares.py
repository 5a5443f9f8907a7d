"""How far each source of a show's mix stands above or below the rest of it."""

from monreq.domain import balance
from monreq.domain.music import heard
from monreq.domain.show import Show


def share_db(show: Show, mix: str, source: str) -> float | None:
    """Return how far a source stands above (positive) or below the rest of a mix. [dB].

    It says nothing about masking or about sound from the stage.

    Returns:
        None where the source does not count as music, is off, or is alone.

    Raises:
        UnknownMix: There is no such mix.
    """
    show.mix(mix)
    contributions = heard(show, show.levels[mix], show.gains)
    if source not in contributions or len(contributions) == 1:
        return None
    return balance.share(contributions, source)
