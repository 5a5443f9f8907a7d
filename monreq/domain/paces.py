"""How fast this engineer works, learned from the decisions of this show: a move, and going to another mix."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from monreq.domain.decisions import Decision
from monreq.domain.requests import Kind, Outcome

START_MOVE_S = 4.0
"""Chosen: read a row, find the send, turn it, press a key. [s]"""

START_SETUP_S = 6.0
"""Chosen: pick another mix on the desk and listen to it first. [s]"""

START_COUNTS = 5
"""Chosen: the start values count as much as so many decisions, so that the first odd one changes little."""

LATEST = 40
"""Chosen: as many decisions as a good hour brings; what was slow at soundcheck is forgotten by then."""

LATEST_OF_ALL = 10 * LATEST
"""Chosen: among so many decisions of any kind those are looked for; an evening has no more."""

SHORTEST_S = 0.5
"""Chosen: faster than that several keys only told what the hand had done before. [s]"""

LONGEST_S = 60.0
"""Chosen: after a longer pause the engineer did something else in between. [s]"""


@dataclass(frozen=True, slots=True)
class Paces:
    """What the gap plan reckons with.

    Attributes:
        move_s: A row in the mix the desk is on. [s]
        setup_s: Going to another mix, which comes on top. [s]
        at_mix: The mix the desk was on last, None before the first decision.
        learned_from: How many decisions went into this; 0 means start values.
    """

    move_s: float
    setup_s: float
    at_mix: str | None
    learned_from: int


def learn(decisions: Iterable[Decision]) -> Paces:
    """Learn the paces: medians, so that a few odd times do not count.

    A decision took from the one before it, or from its oldest request if that came later, until it was recorded.
    What was not done, set aside, undone since, moved a group or answered an urgent call tells nothing, nor does a decision that took
    less than half a second or more than a minute.

    Args:
        decisions: All of a show, in the order of deciding, as `Show.decisions` holds them.
    """
    latest = list(decisions)[-LATEST_OF_ALL:]
    took = list(_times(latest))
    stayed = [took_s for took_s, has_moved in took if not has_moved][-LATEST:]
    went = [took_s for took_s, has_moved in took if has_moved][-LATEST:]
    move_s = median([START_MOVE_S] * START_COUNTS + stayed)
    away_s = median([START_MOVE_S + START_SETUP_S] * START_COUNTS + went)
    return Paces(
        move_s=move_s,
        setup_s=max(0.0, away_s - move_s),
        at_mix=latest[-1].key.mix if latest else None,
        learned_from=len(stayed) + len(went),
    )


def _times(decisions: list[Decision]) -> Iterator[tuple[float, bool]]:
    """Yield how long each decision that tells something took [s], and whether it was for another mix."""
    for before, decision in pairwise(decisions):
        began_ms = max(before.at_ms, min(request.at_ms for request in decision.requests))
        took_s = (decision.at_ms - began_ms) / 1000
        if _is_work(decision) and SHORTEST_S <= took_s <= LONGEST_S:
            yield took_s, decision.key.mix != before.key.mix


def _is_work(decision: Decision) -> bool:
    is_one_row = decision.key.kind is not Kind.CALL and not decision.moves_of_group
    return decision.outcome is Outcome.DONE and is_one_row and not decision.is_undone
