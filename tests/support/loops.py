"""What the loops of a wedge come to together."""

import math

from monreq.domain.margins import FEWEST_TOGETHER, loop_gains, margins_in
from monreq.domain.show import Show


def together_db(show: Show, mix: str) -> float | None:
    """Return the margin of all that was read and is on in a wedge, together: an indicator. [dB].

    Each alone says too much, for all of them sound into one another's path.

    Returns:
        None where fewer than two were read.

    Raises:
        UnknownMix: There is none of this id.
    """
    gains = loop_gains(show, mix)
    on = [gains[one.source] for one in margins_in(show, mix) if one.source in gains]
    return -10 * math.log10(math.fsum(on)) if len(on) >= FEWEST_TOGETHER else None
