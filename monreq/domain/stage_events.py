"""Events about the desk's auxes and about who stands where; see `events` for their manner."""

from dataclasses import dataclass

from monreq.domain.desk_facts import DeskFacts
from monreq.domain.stage_plan import SourcePlace, Standing


@dataclass(frozen=True, slots=True)
class DeskDescribed:
    """The engineer said what the desk has for monitors."""

    desk: DeskFacts


@dataclass(frozen=True, slots=True)
class MusicianPlaced:
    """A musician was given a place on the stage plan; None takes them off it."""

    musician: str
    standing: Standing | None


@dataclass(frozen=True, slots=True)
class SourcePlaced:
    """It was said where a source stands on the stage plan, and whether it stays central."""

    source: str
    place: SourcePlace


StageEvent = DeskDescribed | MusicianPlaced | SourcePlaced
