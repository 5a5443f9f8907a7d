"""The gap between two songs: how long it usually is in this show, and what is left of it."""

from dataclasses import dataclass
from statistics import median

from monreq.domain.show import Show

ENOUGH_GAPS = 3
"""Chosen: a median of fewer would be one odd gap's."""

SHORTEST_S = 5.0
"""Chosen: shorter than that a key was mistaken, or two songs belong together. [s]"""

LONGEST_S = 300.0
"""Chosen: longer than that it was a break, not a gap. [s]"""

LATEST = 12
"""Chosen: as many gaps as a set has; how the first set went is forgotten in the second."""

LEAST_LEFT_S = 1.0
"""Chosen: the gap plan wants some time left; in a gap that is over nothing fits into so little. [s]"""


@dataclass(frozen=True, slots=True)
class UsualGap:
    """How long a gap usually is here.

    Attributes:
        gap_s: To whole seconds. [s]
        learned_from: Of how many gaps of this show it is the median; 0 where it is the show's setting.
    """

    gap_s: int
    learned_from: int


def usual_gap(show: Show) -> UsualGap:
    """Return the median of this show's latest gaps, once there are enough, else the show's setting."""
    told_s = [gap_ms / 1000 for gap_ms in show.gaps_ms if SHORTEST_S <= gap_ms / 1000 <= LONGEST_S][-LATEST:]
    if len(told_s) < ENOUGH_GAPS:
        return UsualGap(show.settings.gap_s, 0)
    return UsualGap(round(median(told_s)), len(told_s))


def left_s(show: Show, at_ms: int) -> float:
    """Return what is left of the usual gap at a time: all of it outside a gap. [s].

    Args:
        show: The state.
        at_ms: The time. [ms since 1970, UTC]
    """
    usual_s = float(usual_gap(show).gap_s)
    began_ms = show.stretch.at_ms
    if show.is_running or began_ms is None:
        return usual_s
    return max(LEAST_LEFT_S, usual_s - max(0, at_ms - began_ms) / 1000)
