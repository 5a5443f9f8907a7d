"""What musicians say once they heard what the desk did, and which decisions can be heard."""

from dataclasses import dataclass
from enum import StrEnum

from monreq.domain.decisions import Decision
from monreq.domain.requests import Kind, Outcome, Way

MOST_TO_HEAR = 3  # chosen: asked one after another; of older ones nobody remembers what was before


class Heard(StrEnum):
    """How what was asked for sounds now."""

    RIGHT = "right"
    TOO_LITTLE = "too_little"
    TOO_MUCH = "too_much"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was said about a decision.

    Attributes:
        at_ms: When. [ms since 1970, UTC]
    """

    heard: Heard
    musician: str
    at_ms: int


def can_be_heard(decision: Decision) -> bool:
    """Whether a decision made a difference that its musicians can judge: a level that moved for them."""
    is_level = decision.key.kind is Kind.LEVEL and decision.outcome is Outcome.DONE and not decision.is_undone
    has_moved = decision.way is Way.REST_DOWN or bool(decision.done_for_musicians)
    return is_level and has_moved and decision.is_for_musicians and decision.asked_by_musicians != 0


def asked_more(decision: Decision) -> bool:
    """Whether its musicians asked for more, all together."""
    return decision.asked_by_musicians > 0
