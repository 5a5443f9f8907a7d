"""What the desk says of groups, and what becomes of them when sources leave."""

from collections.abc import Mapping
from dataclasses import replace

from monreq.domain import group_commands as c
from monreq.domain.events import Event
from monreq.domain.group_events import GroupPut, GroupRemoved
from monreq.domain.group_refusals import EmptyGroup, SubMixInGroup, UnknownGroup
from monreq.domain.group_sends import can_be_asked_for
from monreq.domain.groups import Group
from monreq.domain.levels import Levels
from monreq.domain.refusals import IdTaken, UnknownSource
from monreq.domain.removals import not_done
from monreq.domain.requests import Request
from monreq.domain.show import Show, without
from monreq.domain.texts import checked_id, clean_name


def put_group(show: Show, command: c.PutGroup) -> tuple[Event, ...]:
    """Add a group, or replace its facts; what waits for it where nothing of it is left is answered as not done."""
    group = _checked(show, command.group)
    if show.groups.get(group.id) == group:
        return ()
    after = replace(show, groups={**show.groups, group.id: group})
    return (*not_done(show, for_nothing_left(show, after)), GroupPut(group))


def remove_group(show: Show, command: c.RemoveGroup) -> tuple[Event, ...]:
    """Take a group out; what waits for it is answered as not done."""
    if command.group not in show.groups:
        raise UnknownGroup
    waiting = [one for one in show.open_requests.values() if one.key.source == command.group]
    return (*not_done(show, waiting), GroupRemoved(command.group))


def for_nothing_left(show: Show, after: Show) -> list[Request]:
    """Return what waits for groups that can be asked for now, and of which nothing is left in its mix afterwards."""
    return [
        one
        for one in show.open_requests.values()
        if one.key.source in show.groups and not can_be_asked_for(after, one.key)
    ]


def without_send(show: Show, mix: str, source: str) -> Show:
    """Return a show in which a source is off one mix's list, to see what is left then."""
    levels = show.levels[mix]
    return replace(show, levels={**show.levels, mix: _without_source(levels, source)})


def without_source(show: Show, source: str) -> Show:
    """Return a show in which a source is in no mix and no group, to see what is left then."""
    levels = {mix: _without_source(one, source) for mix, one in show.levels.items()}
    return replace(show, levels=levels, groups=_shrunk(show.groups, source))


def groups_without(show: Show, source: str) -> tuple[Event, ...]:
    """Return what becomes of groups when a source leaves: they shrink, and an empty one goes."""
    after = _shrunk(show.groups, source)
    return tuple(
        GroupPut(after[group]) if group in after else GroupRemoved(group)
        for group, before in show.groups.items()
        if after.get(group) != before
    )


def _checked(show: Show, given: Group) -> Group:
    if given.id in show.sources:
        raise IdTaken
    sources = tuple(dict.fromkeys(given.sources))
    if not sources:
        raise EmptyGroup
    if any(source not in show.sources for source in (*sources, given.sub_mix or sources[0])):
        raise UnknownSource
    if given.sub_mix in sources:
        raise SubMixInGroup
    return Group(checked_id(given.id), clean_name(given.name), sources, given.sub_mix or None)


def _shrunk(groups: Mapping[str, Group], source: str) -> Mapping[str, Group]:
    shrunk = {
        group.id: replace(
            group,
            sources=tuple(one for one in group.sources if one != source),
            sub_mix=None if group.sub_mix == source else group.sub_mix,
        )
        for group in groups.values()
    }
    return {group: facts for group, facts in shrunk.items() if facts.sources}


def _without_source(levels: Levels, source: str) -> Levels:
    return replace(levels, sends=without(levels.sends, [source]))
