"""Sets a show up with what a band brings: people, sources, places, mixes, groups and songs, as commands."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from monreq.domain import commands as c
from monreq.domain.band import Band
from monreq.domain.carry_choices import Choices, MixChoice
from monreq.domain.group_commands import PutGroup
from monreq.domain.groups import Group
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.domain.show_aux_plan import plan_show
from monreq.domain.song_commands import PutSetList
from monreq.domain.stage_commands import NumberAuxes, PlaceOnStage
from monreq.domain.stage_plan import SourcePlace, Standing


@dataclass(frozen=True, slots=True)
class Taking:
    """A band on its way into a show.

    Attributes:
        show: As it is before.
        sources, musicians, mixes: The ids in the show by those in the band, of all that is taken over.
    """

    band: Band
    show: Show
    choices: Choices
    sources: Mapping[str, str]
    musicians: Mapping[str, str]
    mixes: Mapping[str, str]


def set_up(taking: Taking) -> Iterator[c.Command]:
    """Yield what adds the sources, musicians, places and mixes that the show does not have."""
    show = taking.show
    for source in taking.band.sources:
        here = taking.sources.get(source.id)
        if here is not None and here not in show.sources:
            yield c.PutSource(replace(source, id=here))
    yield from _musicians(taking)
    yield PlaceOnStage(tuple(_standings(taking)), tuple(_places(taking)))
    for mix in taking.band.mixes:
        if mix.id in taking.mixes and taking.mixes[mix.id] not in show.mixes:
            yield c.PutMix(_added(taking, mix))


def new_auxes(taking: Taking, prepared: Show) -> Iterator[c.Command]:
    """Yield what puts the mixes of the band that have no aux on those that the plan has for them and that are free."""
    if prepared.desk is None:
        return
    used = {number for mix in prepared.mixes.values() for number in mix.auxes}
    planned = plan_show(prepared, prepared.desk).numbers
    chosen = {
        mix: planned[mix]
        for mix in taking.mixes.values()
        if not prepared.mix(mix).auxes and planned[mix] and used.isdisjoint(planned[mix])
    }
    if chosen:
        yield NumberAuxes(tuple(chosen.items()))


def groups_and_songs(taking: Taking) -> Iterator[c.Command]:
    """Yield the groups of what is here, and the band's set list where the show has none."""
    taken = {*taking.show.sources, *taking.sources.values()}
    for group in taking.band.groups:
        here = _group(taking, group)
        if here.sources and group.id not in taken:
            yield PutGroup(here)
    if taking.band.songs and not taking.show.songs:
        yield PutSetList(taking.band.songs)


def _group(taking: Taking, group: Group) -> Group:
    """Return a group with those of its sources that are here."""
    sub_mix = None if group.sub_mix is None else taking.sources.get(group.sub_mix)
    sources = [taking.sources[one] for one in group.sources if one in taking.sources]
    return replace(group, sources=tuple(one for one in sources if one != sub_mix), sub_mix=sub_mix)


def _musicians(taking: Taking) -> Iterator[c.Command]:
    """Yield the musicians to add, and those whose chair a deputy takes."""
    for musician in taking.band.musicians:
        here = taking.musicians.get(musician.id)
        if here is None:
            continue
        deputy = taking.choices.deputies.get(musician.id, "")
        known = taking.show.musicians.get(here)
        if known is None:
            yield c.PutMusician(replace(musician, id=here, deputy=deputy))
        elif deputy:
            yield c.PutMusician(replace(known, deputy=deputy))


def _standings(taking: Taking) -> Iterator[tuple[str, Standing]]:
    for musician, standing in taking.band.standings.items():
        here = taking.musicians.get(musician)
        if here is not None and here not in taking.show.standings:
            yield here, standing


def _places(taking: Taking) -> Iterator[tuple[str, SourcePlace]]:
    """Yield where sources stand, those beside a musician who is not here without a place."""
    for source, place in taking.band.source_places.items():
        here = taking.sources.get(source)
        if here is not None and here not in taking.show.source_places:
            yield here, replace(place, beside=taking.musicians.get(place.beside, ""))


def _added(taking: Taking, mix: Mix) -> Mix:
    """Return a mix as it is added: without the old desk's auxes, and with nothing said of packs nobody has seen."""
    choice = taking.choices.mix_choices.get(mix.id, MixChoice(mix.output, mix.is_fed_mono))
    return replace(
        mix,
        id=taking.mixes[mix.id],
        output=choice.output,
        is_fed_mono=choice.is_fed_mono and choice.output is Output.IN_EAR_PAIR,
        musicians=tuple(taking.musicians[one] for one in mix.musicians if one in taking.musicians),
        auxes=(),
        has_limiter=None,
        is_pack_low=None,
    )
