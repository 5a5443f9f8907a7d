"""The event about how a change sounds; see `events` for their manner."""

from dataclasses import dataclass

from monreq.domain.hearing import Heard


@dataclass(frozen=True, slots=True)
class HeardSaid:
    """A musician said how what a decision changed sounds; what was asked again stands just before it."""

    decision: str
    mix: str
    musician: str
    heard: Heard


HearingEvent = HeardSaid
