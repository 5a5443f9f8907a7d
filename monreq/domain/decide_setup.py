"""How a show is set up: sources, musicians, mixes, start settings, codes."""

from dataclasses import replace
from functools import reduce

from monreq.domain import commands as c
from monreq.domain import events as e
from monreq.domain.decide_answering import check_setting
from monreq.domain.decide_groups import for_nothing_left, groups_without, without_send, without_source
from monreq.domain.measuring_events import MarginsMadeStale
from monreq.domain.other_output import begun_low, leaking, nothing_said_of_packs, without_song_moves
from monreq.domain.plausible_settings import check_settings
from monreq.domain.refusals import (
    BadSetting,
    IdTaken,
    NoPanInMono,
    TooManyAuxes,
    UnknownMusician,
    UnknownSource,
)
from monreq.domain.removals import not_done
from monreq.domain.requests import Kind, Request
from monreq.domain.setup import Mix, Output, Setting, Source, suits
from monreq.domain.setup_refusals import NameTaken
from monreq.domain.show import Show
from monreq.domain.starting_low import START_OUTPUT_TENTHS, START_TENTHS, has_other_output
from monreq.domain.texts import NAME_LIMIT, checked_id, clean, clean_name

PLACE_LIMIT = 40
LARGEST_AUX = 999  # chosen: three digits
MOST_TRIM_TENTHS = 300  # chosen: a channel further off than this is not gain-staged at all

MOVED = "the mix was set up anew"


def open_show(show: Show, command: c.OpenShow) -> tuple[e.Event, ...]:
    """Begin a show in an empty log."""
    if show.revision:
        raise IdTaken
    return (e.ShowOpened(clean_name(command.name), command.is_demo),)


def rename_show(show: Show, command: c.RenameShow) -> tuple[e.Event, ...]:
    """Give the show another name."""
    name = clean_name(command.name)
    return () if name == show.name else (e.ShowRenamed(name),)


def close_show(_show: Show, _command: c.CloseShow) -> tuple[e.Event, ...]:
    """End the show."""
    return (e.ShowClosedForGood(),)


def change_settings(show: Show, command: c.ChangeSettings) -> tuple[e.Event, ...]:
    """Change the show's settings."""
    check_settings(command.settings)
    for setting in _standing(show):
        check_setting(setting, command.settings)
    return () if command.settings == show.settings else (e.SettingsChanged(command.settings),)


def put_source(show: Show, command: c.PutSource) -> tuple[e.Event, ...]:
    """Add a source and put it on the lists of the mixes it suits, or replace its facts."""
    source = replace(command.source, id=checked_id(command.source.id), name=clean_name(command.source.name))
    if any(_alike(one, source) for one in show.sources.values()):
        raise NameTaken
    if abs(source.trim_tenths) > MOST_TRIM_TENTHS:
        raise BadSetting("A trim goes from -30 to +30 dB: check the figure.")
    if source.id in show.groups:
        raise IdTaken
    if source.id in show.sources:
        return () if show.sources[source.id] == source else (e.SourcePut(source),)
    sends = [
        e.SendPut(mix.id, source.id, start_setting(show, mix))
        for mix in show.mixes.values()
        if suits(mix, source)
    ]
    return (e.SourcePut(source), *sends)


def _alike(one: Source, other: Source) -> bool:
    """Whether two sources would be taken for one another."""
    return one.id != other.id and one.name.casefold() == other.name.casefold()


def remove_source(show: Show, command: c.RemoveSource) -> tuple[e.Event, ...]:
    """Take a source off the input list; what waits for it is answered as not done."""
    if command.source not in show.sources:
        raise UnknownSource
    waiting = [
        *(one for one in show.open_requests.values() if one.key.source == command.source),
        *for_nothing_left(show, without_source(show, command.source)),
    ]
    sends = [
        e.SendRemoved(mix, command.source)
        for mix, levels in show.levels.items()
        if command.source in levels.sends
    ]
    groups = groups_without(show, command.source)
    return (*not_done(show, waiting), *sends, *groups, e.SourceRemoved(command.source))


def reorder_sources(show: Show, command: c.ReorderSources) -> tuple[e.Event, ...]:
    """Put the input list in another order."""
    named = dict.fromkeys(command.sources)
    if not named.keys() <= show.sources.keys():
        raise UnknownSource
    order = tuple(named | dict.fromkeys(show.sources))
    return () if order == tuple(show.sources) else (e.SourcesReordered(order),)


def put_musician(show: Show, command: c.PutMusician) -> tuple[e.Event, ...]:
    """Add a musician or rename one."""
    given = command.musician
    if given.id == e.DESK:
        raise IdTaken
    musician = replace(
        given,
        id=checked_id(given.id),
        name=clean_name(given.name),
        chair=clean(given.chair, NAME_LIMIT),
        deputy=clean(given.deputy, NAME_LIMIT),
    )
    return () if show.musicians.get(musician.id) == musician else (e.MusicianPut(musician),)


def remove_musician(show: Show, command: c.RemoveMusician) -> tuple[e.Event, ...]:
    """Take a musician out; what they asked is answered as not done."""
    if command.musician not in show.musicians:
        raise UnknownMusician
    waiting = [one for one in show.open_requests.values() if one.musician == command.musician]
    return (*not_done(show, waiting), e.MusicianRemoved(command.musician))


def put_mix(show: Show, command: c.PutMix) -> tuple[e.Event, ...]:
    """Add a mix with start settings, or replace its facts."""
    mix = _checked_mix(show, command.mix)
    if mix.id in show.mixes:
        return _replaced_mix(show, mix)
    sends = [
        e.SendPut(mix.id, source.id, start_setting(show, mix))
        for source in show.sources.values()
        if suits(mix, source)
    ]
    output = Setting(show.settings.in_range(START_OUTPUT_TENTHS[mix.output]))
    return (e.MixPut(mix), e.SendPut(mix.id, None, output), *sends)


def remove_mix(show: Show, command: c.RemoveMix) -> tuple[e.Event, ...]:
    """Take a mix out; what waits in it is answered as not done."""
    show.mix(command.mix)
    waiting = [one for one in show.open_requests.values() if one.key.mix == command.mix]
    return (*not_done(show, waiting), e.MixRemoved(command.mix))


def put_send(show: Show, command: c.PutSend) -> tuple[e.Event, ...]:
    """Put a source on a mix's list or enter its start setting; the source None is the output."""
    mix = show.mix(command.mix)
    if command.source is not None and command.source not in show.sources:
        raise UnknownSource
    check_setting(command.setting, show.settings)
    if command.setting.pan_percent and not mix.is_stereo:
        raise NoPanInMono
    position = show.levels[mix.id].at(command.source)
    if position and position.setting == command.setting:
        return ()
    return (e.SendPut(mix.id, command.source, command.setting),)


def remove_send(show: Show, command: c.RemoveSend) -> tuple[e.Event, ...]:
    """Take a source off a mix's list; what waits for it there is answered as not done."""
    show.position(command.mix, command.source)
    asked = [
        one
        for one in show.open_requests.values()
        if (one.key.mix, one.key.source) == (command.mix, command.source)
    ]
    waiting = [*asked, *for_nothing_left(show, without_send(show, command.mix, command.source))]
    return (*not_done(show, waiting), e.SendRemoved(command.mix, command.source))


def replace_code(show: Show, command: c.ReplaceCode) -> tuple[e.Event, ...]:
    """Replace the code of a mix, or of the desk."""
    if command.mix is not None:
        show.mix(command.mix)
    return (e.CodeReplaced(command.mix),)


def start_setting(show: Show, mix: Mix) -> Setting:
    """Return the setting with which a source joins a mix: low, in the middle; off once the soundcheck is behind."""
    return Setting(show.settings.in_range(START_TENTHS[mix.output]), is_on=show.mark is None)


def _standing(show: Show) -> list[Setting]:
    """Return every setting of the show as it stands."""
    return [
        position.setting
        for levels in show.levels.values()
        for position in (levels.output, *levels.sends.values())
    ]


def _replaced_mix(show: Show, mix: Mix) -> tuple[e.Event, ...]:
    """Replace a mix's facts; what nobody in it could ask any more is answered as not done."""
    if show.mixes[mix.id] == mix:
        return ()
    mix = nothing_said_of_packs(show.mixes[mix.id], mix)
    is_other = has_other_output(show.mixes[mix.id], mix)
    return (
        *not_done(show, _outlived(show, mix)),
        *(without_song_moves(show, mix.id) if is_other else ()),
        *_stale_by_moving(show, mix),
        e.MixPut(mix),
        *(begun_low(show, mix) if is_other else ()),
    )


def _outlived(show: Show, mix: Mix) -> list[Request]:
    """Return what waits in a mix and cannot be asked of it as it is from now on."""
    gone = [source.id for source in leaking(show, mix)]
    after = reduce(lambda left, source: without_send(left, mix.id, source), gone, show)
    asked = [
        one
        for one in show.open_requests.values()
        if one.key.mix == mix.id
        and not one.is_for_song
        and (_asks_no_more(mix, one) or _has_no_place(mix, one) or one.key.source in gone)
    ]
    return [*asked, *for_nothing_left(show, after)]


def _has_no_place(mix: Mix, request: Request) -> bool:
    return request.key.kind is Kind.PAN and not mix.is_stereo


def _asks_no_more(mix: Mix, request: Request) -> bool:
    return not request.group and request.musician not in mix.musicians


def _stale_by_moving(show: Show, mix: Mix) -> tuple[e.Event, ...]:
    """Say that a mix's readings do not hold any more once it stands elsewhere, or comes from another output."""
    old = show.mixes[mix.id]
    is_as_read = (old.output, old.place, old.auxes) == (mix.output, mix.place, mix.auxes)
    if is_as_read or all(place[0] != mix.id for place in show.readings):
        return ()
    return (MarginsMadeStale(mix.id, MOVED),)


def _checked_mix(show: Show, mix: Mix) -> Mix:
    if any(musician not in show.musicians for musician in mix.musicians):
        raise UnknownMusician
    if len(mix.auxes) > (2 if mix.is_stereo else 1):
        raise TooManyAuxes
    if any(not 1 <= aux <= LARGEST_AUX for aux in mix.auxes):
        raise BadSetting
    return replace(
        mix,
        id=checked_id(mix.id),
        name=clean_name(mix.name),
        place=clean(mix.place, PLACE_LIMIT),
        musicians=tuple(dict.fromkeys(mix.musicians)),
        is_fed_mono=mix.is_fed_mono and mix.output is Output.IN_EAR_PAIR,
    )
