"""Events about groups; see `events` for their manner."""

from dataclasses import dataclass

from monreq.domain.groups import Group


@dataclass(frozen=True, slots=True)
class GroupPut:
    """A group was added, or its facts were replaced."""

    group: Group


@dataclass(frozen=True, slots=True)
class GroupRemoved:
    """A group is no group any more; its sources stay."""

    group: str


GroupEvent = GroupPut | GroupRemoved
