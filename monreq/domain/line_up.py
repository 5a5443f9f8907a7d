"""What a band takes over from a show: who plays what, where, and through which mix."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Protocol, TypeVar

from monreq.domain.band import Band
from monreq.domain.show import Show


class _Named(Protocol):
    @property
    def id(self) -> str: ...


One = TypeVar("One", bound=_Named)
Place = TypeVar("Place")


def with_line_up(band: Band, show: Show) -> Band:
    """Return a band as a show has it now.

    What the show lacks stays in the band, behind the rest, as long as a kept mix needs it: a musician who is ill
    for one evening does not lose their mix. Deputies are of one evening and are left out.
    """
    mixes = _with_needed(show.mixes, band.mixes, {one.mix for one in band.kept})
    absent = {musician for mix in mixes if mix.id not in show.mixes for musician in mix.musicians}
    usual = {one.id: replace(one, deputy="") for one in show.musicians.values()}
    musicians = _with_needed(usual, band.musicians, absent)
    sources = _with_needed(show.sources, band.sources, {source for one in band.kept for source in one.sends})
    return replace(
        band,
        sources=sources,
        groups=tuple(show.groups.values()),
        musicians=musicians,
        mixes=mixes,
        songs=_with_needed(show.songs, band.songs, {one.song for one in band.kept if one.song}),
        standings=_placed(musicians, usual, show.standings, band.standings),
        source_places=_placed(sources, show.sources, show.source_places, band.source_places),
    )


def _with_needed(here: Mapping[str, One], before: Iterable[One], needed: set[str]) -> tuple[One, ...]:
    return (*here.values(), *(one for one in before if one.id in needed and one.id not in here))


def _placed(
    everybody: Iterable[One], here: Mapping[str, One], now: Mapping[str, Place], before: Mapping[str, Place]
) -> dict[str, Place]:
    """Return the places of those who are here as they are now, and of the others as they were."""
    known = {one.id: (now if one.id in here else before).get(one.id) for one in everybody}
    return {one: place for one, place in known.items() if place is not None}
