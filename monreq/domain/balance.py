"""The balance of a mix: what its levels come to together, and how to change it without making it louder.

Everywhere here levels are mappings from source to send level [dB]; a source that is off is absent. A source counts by
its send level plus its trim, which is 0 where channels are gain-staged to one nominal level. Sources are taken as
unrelated (incoherent), so that powers add. One source twice in a mix, as an instrument by line and by microphone, is
not: in phase the two add to as much as 6 dB instead of 3, out of phase to less than either, so that what is reckoned
here is off by up to 3 dB upwards and without bound downwards. What is said here is advice to a person.
"""

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from monreq.domain import plausible
from monreq.domain.decibels import power_sum
from monreq.domain.refusals import (
    AloneTooLoud,
    NoChange,
    NothingElseInMix,
    NothingInMix,
    RestOnlyDown,
    SourceNotInMix,
)

Trims = Mapping[str, float]

NO_TRIMS: Trims = MappingProxyType({})
SAME_LOUDNESS_FIRST_DB = 3.0  # chosen: twice the power, and just heard in ordinary listening


class TwoMoves(NamedTuple):
    """The same loudness as two moves of the hand: one send, and the output against it."""

    send_change_db: float
    output_change_db: float


def drift(before: Mapping[str, float], after: Mapping[str, float], trims: Trims = NO_TRIMS) -> float:
    """Return how much louder a mix became, as the change of the power sum of its sends.

    Args:
        before: Source to send level. [dB]
        after: The same mix later. [dB]
        trims: Source to what it adds to its send level. [dB]

    Returns:
        The change, positive when louder; 0 when silent before and after, endless from silence or into it. [dB]

    Raises:
        NotAFigure, BeyondBelief: A level or trim is not finite, or beyond 120 dB.

    References:
        Sum of incoherent sources: L = 10 lg(sum of 10^(Li/10)).
    """
    total_before, total_after = _total(before, trims), _total(after, trims)
    if math.isinf(total_before) and math.isinf(total_after):
        return 0.0
    return total_after - total_before


def share(levels: Mapping[str, float], source: str, trims: Trims = NO_TRIMS) -> float:
    """Return how far a source stands above (positive) or below the rest of its mix taken together. [dB].

    It says nothing about masking or about sound from the stage.

    Raises:
        NotAFigure, BeyondBelief: A level or trim is not finite, or beyond 120 dB.
        SourceNotInMix: The source is off or not on the list.
        NothingElseInMix: It is the only one.
    """
    own, rest = _own_and_rest(levels, source, trims)
    return own - rest


def same_loudness(
    levels: Mapping[str, float], changes: Mapping[str, float], trims: Trims = NO_TRIMS
) -> dict[str, float]:
    """Return new levels that keep the power of a mix while its balance changes as asked: everything is trimmed.

    Args:
        levels: Source to send level. [dB]
        changes: Source to the change that was asked; a source that stays may be left out. [dB]
        trims: Source to what it adds to its send level. [dB]

    Returns:
        Source to new level: each asked change made, then all moved by one figure. [dB]

    Raises:
        NotAFigure, BeyondBelief: A level, change or trim is not finite, or beyond 120 dB.
        NothingInMix: Every source is off.
        SourceNotInMix: A change is asked of a source that is off.

    References:
        Follows from the sum of incoherent sources: x = -10 lg(P'/P).
    """
    changed = _changed(levels, changes)
    trim_of_all = _answer_of_output(levels, changed, trims)
    return {source: level + trim_of_all for source, level in changed.items()}


def as_two_moves(
    levels: Mapping[str, float], source: str, change: float, trims: Trims = NO_TRIMS
) -> TwoMoves:
    """Return `same_loudness` for one source as a hand does it: its send by the whole change, the output against it.

    Args:
        levels: Source to send level. [dB]
        source: The source that was asked for.
        change: What was asked. [dB]
        trims: Source to what it adds to its send level. [dB]

    Returns:
        Both changes, not rounded. [dB]

    Raises:
        NotAFigure, BeyondBelief, NothingInMix, SourceNotInMix: As `same_loudness`.
    """
    changed = _changed(levels, {source: change})
    return TwoMoves(change, _answer_of_output(levels, changed, trims))


def others_only(
    levels: Mapping[str, float], source: str, change: float, trims: Trims = NO_TRIMS
) -> dict[str, float]:
    """Return new levels that keep the power of a mix: the asked source moves as asked, only the others make room.

    Args:
        levels: Source to send level. [dB]
        source: The source that was asked for.
        change: What was asked; after a negative one the others rise, which can use up feedback margin. [dB]
        trims: Source to what it adds to its send level. [dB]

    Returns:
        Source to new level; all others moved by one figure. [dB]

    Raises:
        NotAFigure, BeyondBelief: A level, change or trim is not finite, or beyond 120 dB.
        SourceNotInMix: The source is off or not on the list.
        NothingElseInMix: It is the only one, so that nothing can make room.
        AloneTooLoud: The asked source alone would exceed the old total; the sentence says how far it may rise.

    References:
        Follows from the sum of incoherent sources: y = 10 lg((P - Pk 10^(d/10)) / (P - Pk)).
    """
    own, rest = _own_and_rest(levels, source, trims)
    room = power_sum([own, rest]) - own
    part_left = -math.expm1((plausible.db(change) - room) * math.log(10) / 10)
    if part_left <= 0:
        raise AloneTooLoud(_alone_too_loud(room))
    left_for_rest = own + room + 10 * math.log10(part_left)
    return _moved(levels, source, change, left_for_rest - rest)


def most_by_others_only(levels: Mapping[str, float], source: str, trims: Trims = NO_TRIMS) -> float:
    """Return the raise [dB] of a source that `others_only` cannot reach: there it alone is as loud as the mix was.

    Raises:
        NotAFigure, BeyondBelief, SourceNotInMix, NothingElseInMix: As `others_only`.
    """
    own, rest = _own_and_rest(levels, source, trims)
    return power_sum([own, rest]) - own


def rest_down(levels: Mapping[str, float], source: str, amount: float) -> dict[str, float]:
    """Return new levels with the asked source untouched and every other send down.

    It uses up no feedback margin and makes the mix quieter.

    Args:
        levels: Source to send level. [dB]
        source: The source that was asked for.
        amount: How far the rest goes down, above zero. [dB]

    Raises:
        NotAFigure, BeyondBelief: A level or the amount is not finite, or beyond 120 dB.
        NoChange: The amount is nothing.
        RestOnlyDown: The amount is negative.
        SourceNotInMix: The source is off or not on the list.
        NothingElseInMix: It is the only one.
    """
    _own_and_rest(levels, source, NO_TRIMS)
    if plausible.db(amount) == 0:
        raise NoChange
    if amount < 0:
        raise RestOnlyDown
    return _moved(levels, source, 0.0, -amount)


def _contributions(levels: Mapping[str, float], trims: Trims) -> dict[str, float]:
    return {
        source: plausible.db(level) + plausible.db(trims.get(source, 0.0)) for source, level in levels.items()
    }


def _total(levels: Mapping[str, float], trims: Trims) -> float:
    return power_sum(_contributions(levels, trims).values())


def _own_and_rest(levels: Mapping[str, float], source: str, trims: Trims) -> tuple[float, float]:
    """Return what a source and what all others together contribute. [dB]."""
    contributions = _contributions(levels, trims)
    if source not in contributions:
        raise SourceNotInMix
    own = contributions.pop(source)
    if not contributions:
        raise NothingElseInMix
    return own, power_sum(contributions.values())


def _changed(levels: Mapping[str, float], changes: Mapping[str, float]) -> dict[str, float]:
    if not levels:
        raise NothingInMix
    if not changes.keys() <= levels.keys():
        raise SourceNotInMix
    asked = plausible.mapped_db(changes)
    return {source: level + asked.get(source, 0.0) for source, level in levels.items()}


def _answer_of_output(levels: Mapping[str, float], changed: Mapping[str, float], trims: Trims) -> float:
    """Return what the output has to move for the power to stay as it was. [dB]."""
    after = power_sum(level + trims.get(source, 0.0) for source, level in changed.items())
    return _total(levels, trims) - after


def _moved(levels: Mapping[str, float], source: str, own: float, others: float) -> dict[str, float]:
    return {one: level + (own if one == source else others) for one, level in levels.items()}


def _alone_too_loud(room: float) -> str:
    most = (math.ceil(room * 10) - 1) / 10
    return (
        "This source alone would be louder than the whole mix was. With only the others turned down "
        f"it can rise by at most {max(most, 0.0):.1f} dB: turn the output down instead."
    )
