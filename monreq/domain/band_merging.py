"""Two evenings of one band side by side: what each engineer kept, mix by mix, with the differences in dB."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from enum import StrEnum

from monreq.domain.band import Band, KeptMix
from monreq.domain.carry_report import What
from monreq.domain.merging_identities import Identities, Thing, identities
from monreq.domain.setup import Mix, Musician, Setting, Source


class Pick(StrEnum):
    """Whose kept mixes of one mix go on."""

    OURS = "ours"
    THEIRS = "theirs"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class Line:
    """Where a send, or the output (source None), stood in each evening; None: it was not there."""

    source: str | None
    name: str
    ours: Setting | None
    theirs: Setting | None

    @property
    def difference_tenths(self) -> int | None:
        """Theirs less ours; None unless both are there. [0.1 dB]."""
        if self.ours is None or self.theirs is None:
            return None
        return self.theirs.level_tenths - self.ours.level_tenths


@dataclass(frozen=True, slots=True)
class Pair:
    """The newest that each evening kept of one mix, for the show or for one song.

    Attributes:
        song: The song's name; None for the whole show.
        lines: All lines, the output first.
    """

    song: str | None
    ours: KeptMix | None
    theirs: KeptMix | None
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class MixSides:
    """One mix in both evenings.

    Attributes:
        mix: Its id in the merged band.
        pairs: What was kept of it, for the whole show first.
        needs_pick: Whether both kept something of it, and not the same.
    """

    mix: str
    name: str
    pairs: tuple[Pair, ...]
    needs_pick: bool


@dataclass(frozen=True, slots=True)
class OtherFacts:
    """Something that both evenings have and describe differently: ours stays.

    Attributes:
        differing: Names of the facts that differ.
    """

    what: What
    name: str
    differing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Merging:
    """Everything that is the same, differs, or stands on one side only."""

    mixes: tuple[MixSides, ...]
    facts: tuple[OtherFacts, ...]
    only_ours: tuple[str, ...]
    only_theirs: tuple[str, ...]
    unsure: tuple[tuple[str, str], ...]


def compare(ours: Band, theirs: Band) -> Merging:
    """Put two evenings of one band side by side."""
    same = identities(ours, theirs)
    names = {one.id: one.name for one in ours.mixes}
    names |= {same.mixes[one.id]: names.get(same.mixes[one.id], one.name) for one in theirs.mixes}
    here, there = _listed(ours), _listed(theirs)
    known = {(what, same.of(what)[one.id]) for what, one in there}
    own = {(what, one.id) for what, one in here}
    return Merging(
        mixes=tuple(_sides(ours, theirs, same, mix, name) for mix, name in names.items()),
        facts=tuple(_other_facts(ours, theirs, same)),
        only_ours=tuple(one.name for what, one in here if (what, one.id) not in known),
        only_theirs=tuple(one.name for what, one in there if (what, same.of(what)[one.id]) not in own),
        unsure=same.unsure,
    )


def _listed(band: Band) -> list[tuple[What, Thing]]:
    return [
        *((What.SOURCE, one) for one in band.sources),
        *((What.MUSICIAN, one) for one in band.musicians),
        *((What.MIX, one) for one in band.mixes),
    ]


def as_ours(kept: KeptMix, same: Identities) -> KeptMix:
    """Return a kept mix of the other evening with the ids of the merged band."""
    return replace(
        kept,
        mix=same.mixes.get(kept.mix, kept.mix),
        sends={same.sources.get(one, one): setting for one, setting in kept.sends.items()},
        gains={same.sources.get(one, one): gain for one, gain in kept.gains.items()},
        song=None if kept.song is None else same.songs.get(kept.song, kept.song),
    )


def _sides(ours: Band, theirs: Band, same: Identities, mix: str, name: str) -> MixSides:
    here = [one for one in ours.kept if one.mix == mix]
    there = [kept for one in theirs.kept if (kept := as_ours(one, same)).mix == mix]
    return MixSides(
        mix,
        name,
        tuple(_pairs(_names(ours, theirs, same), here, there)),
        needs_pick=bool(here and there) and _without_ids(here) != _without_ids(there),
    )


def _without_ids(kept: list[KeptMix]) -> list[KeptMix]:
    """Return what was kept, however it was numbered, in the order in which it was kept."""
    in_order = sorted(kept, key=lambda one: (one.kept_at_ms, one.name, one.id))
    return [replace(one, id="") for one in in_order]


def _names(ours: Band, theirs: Band, same: Identities) -> dict[str, str]:
    """Return what sources and songs are called, by their ids in the merged band."""
    names = {same.sources[one.id]: one.name for one in theirs.sources}
    names |= {same.songs[one.id]: one.name for one in theirs.songs}
    return names | {one.id: one.name for one in ours.sources} | {one.id: one.name for one in ours.songs}


def _pairs(names: Mapping[str, str], ours: list[KeptMix], theirs: list[KeptMix]) -> Iterator[Pair]:
    songs = dict.fromkeys(one.song for one in (*ours, *theirs))
    for song in sorted(songs, key=lambda one: one is not None):
        here, there = _newest(ours, song), _newest(theirs, song)
        title = None if song is None else names.get(song, song)
        yield Pair(title, here, there, tuple(_lines(names, here, there)))


def _newest(kept: list[KeptMix], song: str | None) -> KeptMix | None:
    return max((one for one in kept if one.song == song), key=lambda one: one.kept_at_ms, default=None)


def _lines(names: Mapping[str, str], ours: KeptMix | None, theirs: KeptMix | None) -> Iterator[Line]:
    yield Line(None, "", ours.output if ours else None, theirs.output if theirs else None)
    here, there = ours.sends if ours else {}, theirs.sends if theirs else {}
    listed = [one for one in names if one in here or one in there]
    for source in dict.fromkeys((*listed, *here, *there)):
        yield Line(source, names.get(source, source), here.get(source), there.get(source))


def _other_facts(ours: Band, theirs: Band, same: Identities) -> Iterator[OtherFacts]:
    sources = {one.id: one for one in ours.sources}
    musicians = {one.id: one for one in ours.musicians}
    mixes = {one.id: one for one in ours.mixes}
    for source in theirs.sources:
        yield from _differing(What.SOURCE, sources.get(same.sources[source.id]), source)
    for musician in theirs.musicians:
        yield from _differing(What.MUSICIAN, musicians.get(same.musicians[musician.id]), musician)
    for mix in theirs.mixes:
        yield from _differing(What.MIX, mixes.get(same.mixes[mix.id]), mix)


def _differing(
    what: What, ours: Source | Musician | Mix | None, theirs: Source | Musician | Mix
) -> Iterator[OtherFacts]:
    if ours is None:
        return
    # Who hears a mix, and on which auxes, is of one evening; ids are not facts.
    facts = [one.name for one in fields(theirs) if one.name not in ("id", "musicians", "auxes", "deputy")]
    differing = tuple(fact for fact in facts if getattr(ours, fact) != getattr(theirs, fact))
    if differing:
        yield OtherFacts(what, ours.name, differing)
