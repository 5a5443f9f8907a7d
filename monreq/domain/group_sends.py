"""What a request for a group is about in one mix: the sends that a hand sets, and where each of them goes."""

from monreq.domain import guard
from monreq.domain.levels import Position
from monreq.domain.requests import Kind, Move, RowKey, moved_by
from monreq.domain.setup import Setting, Settings, Source, SourceUse
from monreq.domain.show import Show


def members_in(show: Show, mix: str, group: str) -> list[tuple[Source, Position]]:
    """Return the sources of a group that are on a mix's list, in the order of the input list.

    Talkback is never among them: it is how the desk reaches the musician.
    """
    own = show.groups[group].sources
    return [
        (source, position)
        for source, position in show.sends_in_order(mix)
        if source.id in own and source.use is not SourceUse.TALKBACK
    ]


def asked_source(show: Show, mix: str, source: str | None) -> str | None:
    """Return what a request is for: a group's sub-mix where this mix is fed by it, else what was named.

    Raises:
        UnknownMix: There is no such mix.
    """
    show.mix(mix)
    group = show.groups.get(source or "")
    carried = show.levels[mix].sends.get(group.sub_mix or "") if group else None
    if group is None or carried is None:
        return source
    is_fed_singly = any(position.setting.is_on for _, position in members_in(show, mix, group.id))
    return group.sub_mix if carried.setting.is_on or not is_fed_singly else source


def settings_of(show: Show, mix: str, source: str | None) -> tuple[Setting, ...]:
    """Return where things stand that a request is about: a send, the output (None), or each send of a group.

    Raises:
        UnknownMix: There is no such mix.
        SourceNotInMix: Neither the source nor any of the group is on its list.
    """
    members = members_in(show, mix, source) if source and source in show.groups and mix in show.mixes else []
    if members:
        return tuple(position.setting for _, position in members)
    return (show.position(mix, source).setting,)


def can_be_asked_for(show: Show, key: RowKey) -> bool:
    """Whether what a row stands for is in its mix: the source, the output, or something of the group."""
    if key.mix not in show.mixes:
        return False
    if key.source and key.source in show.groups:
        return bool(members_in(show, key.mix, key.source))
    return show.levels[key.mix].at(key.source) is not None


def sends_to_set(show: Show, key: RowKey) -> list[tuple[str, Setting]]:
    """Return the sends that a row of a group is about: for a level those that are on."""
    if key.source is None:
        return []
    members = members_in(show, key.mix, key.source)
    return [
        (source.id, position.setting)
        for source, position in members
        if position.setting.is_on or key.kind is not Kind.LEVEL
    ]


def moves_of_group(show: Show, key: RowKey, change: int) -> tuple[Move, ...]:
    """Return the move of each send of a group's row; one that would leave the desk's range stops at its end.

    What comes in, comes in as the guard lets one after the other.
    """
    moves = tuple(
        Move(key.mix, source, now, moved_by(key.kind, now, _within(show.settings, key.kind, now, change)))
        for source, now in sends_to_set(show, key)
    )
    return guard.all_within(show, moves) if key.kind is Kind.IN_OUT else moves


def _within(settings: Settings, kind: Kind, now: Setting, change: int) -> int:
    if kind is not Kind.LEVEL:
        return change
    return max(
        settings.lowest_tenths - now.level_tenths, min(settings.highest_tenths - now.level_tenths, change)
    )
