"""Which things of two evenings of one band are the same, and under which ids all of them go on."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Protocol

from monreq.domain.band import Band
from monreq.domain.carry_choices import free_id
from monreq.domain.carry_matching import Named, match
from monreq.domain.carry_report import What


class Thing(Protocol):
    """What can be the same in both evenings."""

    @property
    def id(self) -> str:
        """Its id, which may be another's in the other evening."""

    @property
    def name(self) -> str:
        """What it is called."""


@dataclass(frozen=True, slots=True)
class Identities:
    """The ids in the merged band of all that the other evening has, by its ids there.

    Attributes:
        sources: Sources and groups: their ids are of one space.
        unsure: Things that may be the same, by their names in both; they are kept apart.
    """

    sources: Mapping[str, str]
    musicians: Mapping[str, str]
    mixes: Mapping[str, str]
    songs: Mapping[str, str]
    unsure: tuple[tuple[str, str], ...]

    def of(self, what: What) -> Mapping[str, str]:
        """Return the ids of one sort of thing."""
        return {What.SOURCE: self.sources, What.MUSICIAN: self.musicians, What.MIX: self.mixes}[what]


def identities(ours: Band, theirs: Band) -> Identities:
    """Find what is the same in two evenings: by id, then by name; what is only alike is kept apart and told."""
    taken = {one.id for one in ours.sources} | {one.id for one in ours.groups}
    sources, unsure = _same(ours.sources, theirs.sources, taken)
    groups, unsure_groups = _same(ours.groups, theirs.groups, taken)
    musicians, unsure_musicians = _same(ours.musicians, theirs.musicians, {one.id for one in ours.musicians})
    mixes, unsure_mixes = _same(ours.mixes, theirs.mixes, {one.id for one in ours.mixes})
    songs, unsure_songs = _same(ours.songs, theirs.songs, {one.id for one in ours.songs})
    return Identities(
        {**sources, **groups},
        musicians,
        mixes,
        songs,
        (*unsure, *unsure_groups, *unsure_musicians, *unsure_mixes, *unsure_songs),
    )


def _same(
    ours: Iterable[Thing], theirs: Iterable[Thing], taken: set[str]
) -> tuple[dict[str, str], tuple[tuple[str, str], ...]]:
    """Return the ids that the others' things go on under, adding them to what is taken, and what is only alike."""
    here = {one.id: Named(one.id, one.name) for one in ours}
    there = {one.id: Named(one.id, one.name) for one in theirs}
    found, unsure = {}, []
    for one in match(list(there.values()), list(here.values())).matches:
        if one.here is not None and not one.is_sure:
            unsure.append((here[one.here].name, there[one.known].name))
        is_same = one.here is not None and one.is_sure
        found[one.known] = one.here if is_same and one.here is not None else free_id(one.known, taken)
        taken.add(found[one.known])
    return found, tuple(unsure)
