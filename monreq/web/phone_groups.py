"""How a phone orders its strips: groups first, each opening to its single sources, then what is in no group."""

from dataclasses import dataclass

from monreq.domain.group_sends import asked_source, members_in
from monreq.domain.show import Show

FEWEST = 2
"""Of a group of which fewer are on, the phone shows the source itself."""


@dataclass(frozen=True, slots=True)
class ShownGroup:
    """A group as one mix shows it.

    Attributes:
        sub_mix: The source that carries it here; None where its sends are set one by one.
        sources: Those it opens to, in the order of the input list.
    """

    group: str
    sub_mix: str | None
    sources: tuple[str, ...]

    @property
    def place(self) -> str:
        """The id of its place."""
        return f"group-{self.group}"

    @property
    def children(self) -> tuple[str, ...]:
        """The ids of the places in it: its own strip first."""
        return tuple(strip_place(one) for one in (self.group, *self.sources))


def strip_place(source: str) -> str:
    """Return the id of a strip's place."""
    return f"strip-{source}"


def shown_groups(show: Show, mix: str) -> tuple[ShownGroup, ...]:
    """Return the groups that a mix's phones show, in their order; a source stands in the first that has it."""
    shown: list[ShownGroup] = []
    for group in show.groups:
        taken = {source for one in shown for source in (*one.sources, one.sub_mix)}
        members = [
            (source, position) for source, position in members_in(show, mix, group) if source.id not in taken
        ]
        carries = asked_source(show, mix, group)
        sub_mix = None if carries == group or carries in taken else carries
        is_on = sum(position.setting.is_on for _, position in members)
        if members and (is_on >= FEWEST or sub_mix):
            shown.append(ShownGroup(group, sub_mix, tuple(source.id for source, _ in members)))
    return tuple(shown)
