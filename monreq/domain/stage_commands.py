"""Commands about the desk's auxes and about who stands where; see `commands` for their manner."""

from dataclasses import dataclass

from monreq.domain.desk_facts import DeskFacts
from monreq.domain.events import DESK
from monreq.domain.stage_plan import SourcePlace, Standing


@dataclass(frozen=True, slots=True)
class DescribeDesk:
    """Say what the desk has for monitors."""

    desk: DeskFacts
    by: str = DESK


@dataclass(frozen=True, slots=True)
class NumberAuxes:
    """Say on which auxes mixes are, by id; an empty one is on none. Mixes that are not named stay."""

    auxes: tuple[tuple[str, tuple[int, ...]], ...]
    by: str = DESK


@dataclass(frozen=True, slots=True)
class PlaceOnStage:
    """Say where musicians and sources stand, by id; those that are not named stay."""

    musicians: tuple[tuple[str, Standing | None], ...] = ()
    sources: tuple[tuple[str, SourcePlace], ...] = ()
    by: str = DESK


StageCommand = DescribeDesk | NumberAuxes | PlaceOnStage
