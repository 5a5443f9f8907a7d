"""How events about groups change the state."""

from dataclasses import replace

from monreq.domain import events as e
from monreq.domain import group_events as g
from monreq.domain.show import Show, without


def group_put(show: Show, event: g.GroupPut, _: e.Recorded) -> Show:
    """Add a group behind the others, or replace one in its place."""
    return replace(show, groups={**show.groups, event.group.id: event.group})


def group_removed(show: Show, event: g.GroupRemoved, _: e.Recorded) -> Show:
    """Take a group out."""
    return replace(show, groups=without(show.groups, [event.group]))
