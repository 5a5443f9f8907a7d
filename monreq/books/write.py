"""Writes a band book: the same band always in the same order, one thing a line, so that two of them compare well."""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from monreq.books import model as m
from monreq.books.values import from_ms
from monreq.domain.band import Band, KeptMix
from monreq.domain.decibels import to_db
from monreq.domain.setup import Mix, Setting, Source
from monreq.domain.stage_plan import SourcePlace, Standing


def write_book(band: Band, now_ms: int) -> bytes:
    """Return a band as a file.

    Args:
        band: What to carry.
        now_ms: When it is exported, the one thing in which two exports of one band differ. [ms since 1970, UTC]
    """
    book = m.BandBook(format=m.FORMAT, version=m.VERSION, exported_at=from_ms(now_ms), band=_band(band))
    return (_lines(book.model_dump(mode="json"), "") + "\n").encode()


def _band(band: Band) -> m.BookBand:
    return m.BookBand(
        id=band.id,
        name=band.name,
        sources=tuple(map(_source, band.sources)),
        groups=tuple(
            m.BookGroup(id=one.id, name=one.name, sources=one.sources, sub_mix=one.sub_mix)
            for one in band.groups
        ),
        musicians=tuple(
            m.BookMusician(id=one.id, name=one.name, is_lead=one.is_lead, chair=one.chair, deputy=one.deputy)
            for one in band.musicians
        ),
        mixes=tuple(map(_mix, band.mixes)),
        songs=tuple(m.BookSong(id=one.id, name=one.name) for one in band.songs),
        stage=m.BookStage(
            musicians=tuple(_standing(*one) for one in sorted(band.standings.items())),
            sources=tuple(_place(*one) for one in sorted(band.source_places.items())),
        ),
        kept_mixes=tuple(_kept(one, [source.id for source in band.sources]) for one in band.kept),
    )


def _source(source: Source) -> m.BookSource:
    return m.BookSource(
        id=source.id,
        name=source.name,
        kind=source.kind,
        use=source.use,
        is_stereo=source.is_stereo,
        trim_db=to_db(source.trim_tenths),
        is_acoustic=source.is_acoustic,
    )


def _mix(mix: Mix) -> m.BookMix:
    return m.BookMix(
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


def _standing(musician: str, standing: Standing) -> m.BookStanding:
    x_m, y_m = standing.spot.metres
    return m.BookStanding(musician=musician, x_m=x_m, y_m=y_m, facing_deg=standing.facing_deg)


def _place(source: str, place: SourcePlace) -> m.BookSourcePlace:
    x_m, y_m = (None, None) if place.spot is None else place.spot.metres
    return m.BookSourcePlace(
        source=source, x_m=x_m, y_m=y_m, beside=place.beside or None, is_central=place.is_central
    )


def _kept(kept: KeptMix, order: Iterable[str]) -> m.BookKeptMix:
    """Return a kept mix with its sends in the order of the input list, those of no source there behind it."""
    listed = [source for source in order if source in kept.sends]
    others = sorted(kept.sends.keys() - set(listed))
    return m.BookKeptMix(
        id=kept.id,
        mix=kept.mix,
        name=kept.name,
        song=kept.song,
        kept_at=from_ms(kept.kept_at_ms),
        show_name=kept.show_name,
        heard_as=kept.heard_as,
        was_fed_mono=kept.was_fed_mono,
        output=m.BookOutput(level_db=to_db(kept.output.level_tenths), is_on=kept.output.is_on),
        sends=tuple(_send(source, kept.sends[source]) for source in (*listed, *others)),
        show=kept.show or None,
        gains=tuple(m.BookGain(source=one, gain_db=to_db(gain)) for one, gain in sorted(kept.gains.items())),
        lowered_db=to_db(kept.lowered_tenths),
    )


def _send(source: str, setting: Setting) -> m.BookSend:
    return m.BookSend(
        source=source,
        level_db=to_db(setting.level_tenths),
        pan=setting.pan_percent / 100,
        is_on=setting.is_on,
    )


def _lines(value: Any, indent: str) -> str:
    """Return JSON in which whatever holds nothing but plain values is one line."""
    if not isinstance(value, dict | list) or all(_is_plain(one) for one in _held(value)):
        return json.dumps(value, ensure_ascii=False)
    deeper = indent + "  "
    if isinstance(value, dict):
        inner = [f"{deeper}{json.dumps(key)}: {_lines(one, deeper)}" for key, one in value.items()]
        return "{\n" + ",\n".join(inner) + f"\n{indent}}}"
    return "[\n" + ",\n".join(deeper + _lines(one, deeper) for one in value) + f"\n{indent}]"


def _held(value: Mapping[str, Any] | list[Any]) -> Iterable[Any]:
    return value.values() if isinstance(value, Mapping) else value


def _is_plain(value: Any) -> bool:
    return not isinstance(value, dict) and not (
        isinstance(value, list) and any(isinstance(one, dict | list) for one in value)
    )
