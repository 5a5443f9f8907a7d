"""The balance of a mix: what its levels come to, taken together."""

import math
from collections.abc import Mapping

from monreq.domain.decibels import power_sum


def drift(before: Mapping[str, float], after: Mapping[str, float]) -> float:
    """Return how much louder a mix became, as the change of the power sum of its sends.

    Assumes that channels are gain-staged to one nominal level, so that a source counts by its send level.

    Args:
        before: Source to send level; a source that is off is absent. [dB]
        after: The same mix later. [dB]

    Returns:
        The change, positive when louder; 0 when silent before and after. [dB]

    References:
        Sum of incoherent sources: L = 10 lg(sum of 10^(Li/10)).
    """
    total_before, total_after = power_sum(before.values()), power_sum(after.values())
    if math.isinf(total_before) and math.isinf(total_after):
        return 0.0
    return total_after - total_before
