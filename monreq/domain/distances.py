"""How level falls with distance from a small source in the open."""

import math

from monreq.domain import plausible


def level_change(from_m: float, to_m: float) -> float:
    """Return how a level changes when the distance does, as between a mouth and its microphone.

    A point source in the free field. It does not hold very near a wedge, whose size matters there, nor far from it
    indoors, where the room's own sound takes over.

    Args:
        from_m: The distance before, above zero. [m, or the unit of the other]
        to_m: The distance after, above zero. [m, or the unit of the other]

    Returns:
        The change, negative when farther away; 6.02 dB for half or twice as far. [dB]

    Raises:
        NotAFigure: A distance is not finite.
        NoDistance: A distance is not above zero, or farther than 10 km.

    References:
        Inverse-square law of a point source: 20 lg(from / to).
    """
    return 20 * math.log10(plausible.distance_m(from_m) / plausible.distance_m(to_m))
