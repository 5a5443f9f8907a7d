"""Commands about groups; see `commands` for their manner."""

from dataclasses import dataclass

from monreq.domain.events import DESK
from monreq.domain.groups import Group


@dataclass(frozen=True, slots=True)
class PutGroup:
    """Add a group, or replace what it is called and which sources are in it."""

    group: Group
    by: str = DESK


@dataclass(frozen=True, slots=True)
class RemoveGroup:
    """Ask for its sources one by one again; what waits for the group is answered as not done."""

    group: str
    by: str = DESK


GroupCommand = PutGroup | RemoveGroup
