"""Where each source of an in-ear pair would start by the stage plan: advice, beside the pan that stands."""

from collections.abc import Iterable, Mapping, Sequence

from monreq.domain.panning import STARTING_WIDTH, from_stage
from monreq.domain.setup import Source
from monreq.domain.show import Show
from monreq.domain.stage_plan import Spot, Standing, spot_of


def listeners(show: Show, mix: str) -> list[Standing] | None:
    """Return where those who hear a mix stand; None if that is not known of all, or nobody hears it."""
    musicians = show.mix(mix).musicians
    known = [show.standings[one] for one in musicians if one in show.standings]
    return known if known and len(known) == len(musicians) else None


def pans_from_stage(show: Show, mix: str) -> Mapping[str, int]:
    """Return the pans that the stage plan gives the sources of a stereo mix; see `pans_of`. [%].

    Raises:
        UnknownMix: There is no such mix.
    """
    show.mix(mix)
    return pans_of(show, mix, [source for source, _ in show.sends_in_order(mix)])


def pans_of(show: Show, mix: str, sources: Iterable[Source]) -> Mapping[str, int]:
    """Return the pans that the stage plan gives sources in a stereo mix, by source. [%].

    A source marked central stays in the middle. A stereo source is left out, since it has a balance instead of a pan.
    Of those who share a mix each would have another pan: the mean of theirs is given.

    Returns:
        Only what is known: nothing for a mono mix, or unless all who hear it stand somewhere.

    Raises:
        UnknownMix: There is no such mix.
    """
    here = listeners(show, mix)
    if here is None or not show.mix(mix).is_stereo:
        return {}
    pans = {}
    for source in sources:
        place = show.place_of(source.id)
        spot = spot_of(place, show.standings)
        if not source.is_stereo and (place.is_central or spot is not None):
            pans[source.id] = 0 if place.is_central or spot is None else _pan_percent(here, spot)
    return pans


def _pan_percent(here: Sequence[Standing], spot: Spot) -> int:
    pans = [from_stage(one.spot.metres, one.facing_deg, spot.metres, STARTING_WIDTH) for one in here]
    return round(100 * sum(pans) / len(pans))
