"""Decibels: sums, ratios, and the whole tenths in which monreq keeps levels."""

import math
from collections.abc import Iterable

from monreq.domain import plausible
from monreq.domain.refusals import FinerThanTenths, NotAFigure

TENTHS_PER_DB = 10


def to_tenths(db: float) -> int:
    """Turn a figure in dB into whole tenths, exactly or not at all.

    Args:
        db: A finite level or change. [dB]

    Returns:
        The same figure. [0.1 dB]

    Raises:
        NotAFigure: It is infinite, not a number, or too large to be told from one.
        FinerThanTenths: It does not fall on a whole tenth.
    """
    try:
        tenths = round(db * TENTHS_PER_DB)
        is_whole = tenths / TENTHS_PER_DB == db
    except (OverflowError, ValueError) as no_figure:
        raise NotAFigure from no_figure
    if not is_whole:
        raise FinerThanTenths
    return tenths


def to_db(tenths: int) -> float:
    """Turn whole tenths [0.1 dB] into a figure in dB that prints with one decimal."""
    return tenths / TENTHS_PER_DB


def net_change(changes: Iterable[float]) -> float:
    """Add changes made one after another to one path.

    Gains in series multiply, so their decibels add as plain numbers, in any order.

    Args:
        changes: Changes of one send or output. [dB]

    Returns:
        What they come to together. [dB]

    Raises:
        NotAFigure: One of them is infinite or not a number, or they come to more than every number.
    """
    return plausible.total(plausible.figure(change) for change in changes)


def amplitude_ratio(db: float) -> float:
    """Return the ratio of pressures or voltages that a level difference [dB] stands for.

    Raises:
        NotAFigure: The difference is not a number, or too large for its ratio to be one.

    References:
        Definition of the level of a root-power quantity: L = 20 lg(ratio) dB, ISO 80000-3.
    """
    return _ratio(db, 20)


def power_ratio(db: float) -> float:
    """Return the ratio of powers that a level difference [dB] stands for.

    Raises:
        NotAFigure: The difference is not a number, or too large for its ratio to be one.

    References:
        Definition of the level of a power quantity: L = 10 lg(ratio) dB, ISO 80000-3.
    """
    return _ratio(db, 10)


def power_sum(levels: Iterable[float]) -> float:
    """Add levels of unrelated (incoherent) sources.

    The loudest is taken out first, so that levels far from zero neither overflow nor vanish.

    Args:
        levels: Levels on one scale; none at all is silence. [dB]

    Returns:
        The level of all of them together, minus infinity for silence. [dB]

    Raises:
        NotAFigure: A level is not a number, or above every number.

    References:
        Sum of incoherent sources: L = 10 lg(sum of 10^(Li/10)).
    """
    all_levels = [level if level == -math.inf else plausible.figure(level) for level in levels]
    if not all_levels:
        return -math.inf
    loudest = max(all_levels)
    if loudest == -math.inf:
        return loudest
    return loudest + 10 * math.log10(math.fsum(power_ratio(level - loudest) for level in all_levels))


def room_below(ceiling: float, raised: float, rest: float = 0.0) -> float:
    """Return how far a part of a sum may go up before all of it comes to a ceiling.

    Args:
        ceiling: What the sum must not pass. [power]
        raised: The part that goes up. [power]
        rest: What stays as it is beside it. [power]

    Returns:
        The change of the part, negative where the sum lies above the ceiling; minus infinity where the rest alone does,
        plus infinity where nothing is raised. [dB]

    References:
        From the sum of incoherent sources: raised * 10^(d/10) + rest = ceiling.
    """
    if raised <= 0:
        return math.inf
    left = ceiling - rest
    return 10 * math.log10(left / raised) if left > 0 else -math.inf


def _ratio(db: float, db_per_decade: int) -> float:
    try:
        return plausible.figure(float(10 ** (db / db_per_decade)))
    except OverflowError as too_large:
        raise NotAFigure from too_large
