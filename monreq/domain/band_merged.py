"""Two evenings of one band become one: everything of both, and of every mix the kept ones that were picked."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from monreq.domain.band import Band, KeptMix
from monreq.domain.band_merging import Pick, as_ours, compare
from monreq.domain.carry_choices import free_id
from monreq.domain.carry_refusals import PickForEachMix
from monreq.domain.groups import Group
from monreq.domain.merging_identities import Identities, identities
from monreq.domain.setup import Mix, Musician, Source
from monreq.domain.songs import Song
from monreq.domain.stage_plan import SourcePlace

Thing = TypeVar("Thing", Source, Musician, Mix, Song, Group)


def merge(ours: Band, theirs: Band, picks: Mapping[str, Pick]) -> Band:
    """Merge another evening into a band.

    Args:
        ours: The band, whose id, name and facts stay.
        theirs: The other evening; what only it has is added behind.
        picks: Whose kept mixes go on, by the mix's id in the merged band; needed where both kept something else.

    Raises:
        PickForEachMix: A mix that differs was not picked.
    """
    needed = {one.mix for one in compare(ours, theirs).mixes if one.needs_pick}
    if not needed <= picks.keys():
        raise PickForEachMix
    same = identities(ours, theirs)
    groups = [_group(one, same) for one in theirs.groups]
    mixes = [_mix(one, same) for one in theirs.mixes]
    return replace(
        ours,
        sources=_both(ours.sources, theirs.sources, same.sources),
        groups=_both(ours.groups, groups, same.sources),
        musicians=_both(ours.musicians, theirs.musicians, same.musicians),
        mixes=_both(ours.mixes, mixes, same.mixes),
        songs=_both(ours.songs, theirs.songs, same.songs),
        standings={same.musicians.get(one, one): at for one, at in theirs.standings.items()}
        | dict(ours.standings),
        source_places={
            same.sources.get(one, one): _place(at, same) for one, at in theirs.source_places.items()
        }
        | dict(ours.source_places),
        kept=tuple(_kept(ours, theirs, same, {mix: picks[mix] for mix in needed})),
    )


def _both(ours: Sequence[Thing], theirs: Sequence[Thing], same: Mapping[str, str]) -> tuple[Thing, ...]:
    """Return ours, and behind them what only the others have, under its new id."""
    here = {one.id for one in ours}
    both: list[Thing] = list(ours)
    both += [replace(one, id=same[one.id]) for one in theirs if same[one.id] not in here]
    return tuple(both)


def _group(group: Group, same: Identities) -> Group:
    sub_mix = None if group.sub_mix is None else same.sources.get(group.sub_mix)
    return replace(
        group,
        sources=tuple(same.sources[one] for one in group.sources if one in same.sources),
        sub_mix=sub_mix,
    )


def _mix(mix: Mix, same: Identities) -> Mix:
    musicians = tuple(same.musicians[one] for one in mix.musicians if one in same.musicians)
    return replace(mix, musicians=musicians)


def _place(place: SourcePlace, same: Identities) -> SourcePlace:
    return replace(place, beside=same.musicians.get(place.beside, ""))


def _kept(ours: Band, theirs: Band, same: Identities, picks: Mapping[str, Pick]) -> list[KeptMix]:
    """Return the kept mixes that go on, the oldest first; what both have alike is there once."""
    kept = [one for one in ours.kept if picks.get(one.mix) is not Pick.THEIRS]
    taken = {one.id for one in kept}
    for one in (as_ours(other, same) for other in theirs.kept):
        if picks.get(one.mix) is not Pick.OURS and not any(_is_alike(one, other) for other in kept):
            kept.append(replace(one, id=free_id(one.id, taken)))
            taken.add(kept[-1].id)
    return sorted(kept, key=lambda one: one.kept_at_ms)


def _is_alike(one: KeptMix, other: KeptMix) -> bool:
    return replace(one, id=other.id) == other
