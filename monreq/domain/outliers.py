"""How unusual a figure is among others, by their median and the median of their distances from it."""

from collections.abc import Sequence
from statistics import median

UNUSUAL_SCORE = 3.5
_TO_DEVIATIONS = 0.6745


def modified_z_score(value: float, others: Sequence[float], least_mad: float = 0.0) -> float:
    """Return by how many standard deviations, robustly told, a figure lies above others, below them negative.

    Mean and standard deviation would be drawn along by the very figure that is wrong; median and MAD are not, as long as
    more than half of the others are right.

    Args:
        value: The figure that is looked at.
        others: At least one; on one scale with it.
        least_mad: What the median of the distances is taken for where it is smaller. Without it, any difference from
            equal figures is endlessly unusual.

    Returns:
        The score; beyond `UNUSUAL_SCORE`, either way, it is taken for an outlier. Endless where the MAD is 0.

    References:
        0.6745 (x - median) / MAD, with 3.5 as its bound: Iglewicz and Hoaglin, How to Detect and Handle Outliers, 1993;
        NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17. 0.6745 is the upper quartile of the normal distribution.
    """
    middle = median(others)
    mad = max(least_mad, median(abs(one - middle) for one in others))
    distance = value - middle
    if not mad:
        return 0.0 if not distance else float("inf") if distance > 0 else float("-inf")
    return _TO_DEVIATIONS * distance / mad
