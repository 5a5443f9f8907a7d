"""Turns what stands in a book into a band."""

from collections.abc import Iterable
from typing import Protocol

from monreq.books import model as m
from monreq.books.refusals import BookDamaged
from monreq.books.values import to_ms
from monreq.domain.band import Band, KeptMix
from monreq.domain.groups import Group
from monreq.domain.setup import Mix, Musician, Setting, Source
from monreq.domain.songs import Song
from monreq.domain.stage_plan import SourcePlace, Spot, Standing


class _WithId(Protocol):
    @property
    def id(self) -> str: ...


def band_of(book: m.BandBook) -> Band:
    """Return the band of a book.

    Raises:
        BookDamaged: An id stands twice.
    """
    band = book.band
    # Groups are asked for like sources, so that their ids are of one space.
    _check_once("sources and groups", [*band.sources, *band.groups])
    _check_once("musicians", band.musicians)
    _check_once("mixes", band.mixes)
    _check_once("songs", band.songs)
    _check_once("kept_mixes", band.kept_mixes)
    return Band(
        id=band.id,
        name=band.name,
        sources=tuple(map(_source, band.sources)),
        groups=tuple(Group(one.id, one.name, one.sources, one.sub_mix) for one in band.groups),
        musicians=tuple(
            Musician(one.id, one.name, one.is_lead, one.chair, one.deputy) for one in band.musicians
        ),
        mixes=tuple(map(_mix, band.mixes)),
        songs=tuple(Song(one.id, one.name) for one in band.songs),
        standings={
            one.musician: Standing(_spot(one.x_m, one.y_m), one.facing_deg) for one in band.stage.musicians
        },
        source_places={one.source: _place(one) for one in band.stage.sources},
        kept=tuple(map(_kept, band.kept_mixes)),
    )


def _source(source: m.BookSource) -> Source:
    return Source(
        source.id,
        source.name,
        source.kind,
        source.is_stereo,
        source.use,
        _tenths(source.trim_db),
        source.is_acoustic,
    )


def _mix(mix: m.BookMix) -> Mix:
    return Mix(
        id=mix.id,
        name=mix.name,
        output=mix.output,
        musicians=mix.musicians,
        place=mix.place,
        auxes=mix.auxes,
        is_fed_mono=mix.is_fed_mono,
        taken_at=mix.taken_at,
        is_cut_by_mutes=mix.is_cut_by_mutes,
        has_limiter=mix.has_limiter,
        is_pack_low=mix.is_pack_low,
    )


def _place(place: m.BookSourcePlace) -> SourcePlace:
    is_placed = place.x_m is not None and place.y_m is not None
    spot = _spot(place.x_m or 0.0, place.y_m or 0.0) if is_placed else None
    return SourcePlace(spot, place.beside or "", place.is_central)


def _kept(kept: m.BookKeptMix) -> KeptMix:
    sends = {
        send.source: Setting(_tenths(send.level_db), round(send.pan * 100), send.is_on) for send in kept.sends
    }
    if len(sends) < len(kept.sends):
        raise BookDamaged(f"This band book is damaged: a source stands twice in the kept mix {kept.name!r}.")
    output = Setting(_tenths(kept.output.level_db), is_on=kept.output.is_on)
    return KeptMix(
        id=kept.id,
        mix=kept.mix,
        name=kept.name,
        output=output,
        sends=sends,
        kept_at_ms=to_ms(kept.kept_at),
        song=kept.song,
        show_name=kept.show_name,
        heard_as=kept.heard_as,
        was_fed_mono=kept.was_fed_mono,
        show=kept.show or "",
        gains={one.source: _tenths(one.gain_db) for one in kept.gains},
        lowered_tenths=_tenths(kept.lowered_db),
    )


def _tenths(db: float) -> int:
    return round(db * 10)


def _spot(x_m: float, y_m: float) -> Spot:
    return Spot(round(x_m * 100), round(y_m * 100))


def _check_once(what: str, things: Iterable[_WithId]) -> None:
    ids = [one.id for one in things]
    doubled = next((one for one in ids if ids.count(one) > 1), None)
    if doubled is not None:
        raise BookDamaged(f"This band book is damaged: the id {doubled!r} stands twice among its {what}.")
