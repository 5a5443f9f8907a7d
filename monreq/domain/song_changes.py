"""In what a kept song mix differs from the mix that was kept beside it for the whole show, as it is in this show.

Levels are dB on the scale of a desk and of an evening, so that what was kept is no level of another evening. What carries
over is the difference between two mixes of one evening, with the preamps as they were turned at each; whatever shift the
whole mix is converted by, a song's is converted by the same, so that it cancels out of the difference.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from monreq.domain.band import Band, KeptMix
from monreq.domain.band_ids import BandIds
from monreq.domain.carry_choices import as_kept, match_band
from monreq.domain.carry_conversion import Converted, Levels, Task, convert
from monreq.domain.carry_matching import Matching, comparable
from monreq.domain.carry_report import SendNote
from monreq.domain.keeping import standing_settings
from monreq.domain.setup import Mix, Setting, SourceUse
from monreq.domain.show import Show
from monreq.domain.song_commands import SongChange
from monreq.domain.songs import NotPlanned, WhyNot
from monreq.domain.stage_pans import pans_of

_LEAKS = frozenset({SendNote.CLICK_LEFT_OUT, SendNote.AUDIENCE_LEFT_OUT})

Told = SongChange | NotPlanned


@dataclass(frozen=True, slots=True)
class _Pair:
    """A song's mix and the one for the whole show of the same evening.

    Attributes:
        known: The mix's facts in the band.
        mix: What it is in the show.
        sources: Ids in the show by ids in the band.
    """

    song: KeptMix
    beside: KeptMix
    known: Mix
    mix: Mix
    sources: Mapping[str, str]


def song_changes(band: Band, show: Show, song: str) -> tuple[tuple[SongChange, ...], tuple[NotPlanned, ...]]:
    """Return in what a song differs here from the rest of the show, and what of it cannot be planned.

    Args:
        band: What the show's band kept; of one mix the latest counts.
        show: As it is now.
        song: A song of the show's set list; the band's of the same name is the same.
    """
    names = {comparable(one.name) for one in show.songs.values() if one.id == song}
    same = {song} | {one.id for one in band.songs if comparable(one.name) in names}
    of_song = sorted((one for one in band.kept if one.song in same), key=lambda one: one.kept_at_ms)
    if not of_song:
        return (), ()
    carried = _ids_carried(band, show)
    told = [one for kept, ids in _latest(show, of_song, carried) for one in _of_mix(band, show, kept, ids)]
    changes = tuple(one for one in told if isinstance(one, SongChange))
    return changes, tuple(one for one in told if isinstance(one, NotPlanned))


def _ids_carried(band: Band, show: Show) -> BandIds:
    """Return what a band's things are in the show; what is not here is not among them."""
    said = show.matched if show.matched is not None and show.matched.band == band.id else None
    found = match_band(band, show)
    return BandIds(
        band.id,
        _here(said.sources if said else {}, found.sources, show.sources),
        _here(said.mixes if said else {}, found.mixes, show.mixes),
    )


def _ids_of(show: Show, kept: KeptMix, carried: BandIds) -> BandIds:
    """Return the same for what one kept mix names: what was kept in this very show has its ids."""
    if kept.show != show.id:
        return carried
    mixes = {kept.mix: kept.mix} if kept.mix in show.mixes else {}
    return BandIds(carried.band, {one: one for one in kept.sends if one in show.sources}, mixes)


def _here(said: Mapping[str, str], found: Matching, there: Mapping[str, object]) -> dict[str, str]:
    """Return what was said when the band was taken over, and beside that what is surely the same."""
    here = {one: it for one, it in said.items() if it in there}
    sure = ((one.known, one.here) for one in found.matches if one.is_sure)
    taken = set(here.values())
    return {**{one: it for one, it in sure if it is not None and it not in taken}, **here}


def _latest(show: Show, in_order: Iterable[KeptMix], carried: BandIds) -> list[tuple[KeptMix, BandIds]]:
    """Return what was kept for a song, of each mix of the show the latest, with the ids of its things here."""
    latest: dict[tuple[bool, str], tuple[KeptMix, BandIds]] = {}
    for one in in_order:
        ids = _ids_of(show, one, carried)
        latest[one.mix in ids.mixes, ids.mixes.get(one.mix, one.mix)] = (one, ids)
    return list(latest.values())


def _of_mix(band: Band, show: Show, kept: KeptMix, ids: BandIds) -> Iterator[Told]:
    known = next((one for one in band.mixes if one.id == kept.mix), None)
    if kept.mix not in ids.mixes:
        yield NotPlanned(WhyNot.MIX_NOT_HERE, known.name if known else kept.mix)
        return
    mix = show.mixes[ids.mixes[kept.mix]]
    beside = _beside(band, show, kept)
    if beside is None:
        yield NotPlanned(WhyNot.NOTHING_BESIDE, mix.name)
        return
    pair = _Pair(kept, beside, known or mix, mix, ids.sources)
    if not _are_alike(pair):
        yield NotPlanned(WhyNot.HEARD_OTHERWISE, mix.name)
        return
    yield from _of_output(pair)
    yield from _of_sends(band, show, pair)


def _beside(band: Band, show: Show, kept: KeptMix) -> KeptMix | None:
    """Return the mix for the whole show that a song's compares with: of the same evening; None if there is none."""
    if not kept.show:
        return None
    marked = (show.mark or {}).get(kept.mix)
    if kept.show == show.id and marked is not None:
        settings, mix = standing_settings(marked), show.mixes[kept.mix]
        sends = {one: setting for one, setting in settings.items() if one is not None}
        return replace(kept, output=settings[None], sends=sends, heard_as=mix.output, gains=show.marked_gains)
    whole = [one for one in band.kept if one.song is None and (one.mix, one.show) == (kept.mix, kept.show)]
    return max(whole, key=lambda one: one.kept_at_ms, default=None)


def _are_alike(pair: _Pair) -> bool:
    """Whether both were heard in one way, so that their levels have a scale in common."""
    song, beside = as_kept(pair.song, pair.known), as_kept(pair.beside, pair.known)
    return (song.output, song.is_stereo) == (beside.output, beside.is_stereo)


def _of_output(pair: _Pair) -> Iterator[SongChange]:
    # What lasted was kept lower than it stood: that is the evening's drift, and no wish of the song.
    stood = pair.beside.output.level_tenths + pair.beside.lowered_tenths
    change = pair.song.output.level_tenths - stood
    if change and pair.song.output.is_on and pair.beside.output.is_on:
        yield SongChange(pair.mix.id, None, change)


def _of_sends(band: Band, show: Show, pair: _Pair) -> Iterator[Told]:
    names = {one.id: one.name for one in band.sources}
    song, beside = _converted(show, pair, pair.song), _converted(show, pair, pair.beside)
    for one, setting in pair.song.sends.items():
        here = pair.sources.get(one)
        if not _differs(pair, one, setting):
            continue
        why = _why_not(show, pair, one, song)
        if why is not None:
            yield NotPlanned(why, pair.mix.name, show.source_name(here) or names.get(one, one))
        elif here is not None:
            yield _change(pair, one, song.sends[here], beside.sends[here])


def _differs(pair: _Pair, source: str, setting: Setting) -> bool:
    """Whether a send says anything of the song: what is out in both does not, wherever it stands."""
    beside = pair.beside.sends.get(source)
    if beside is None or not (setting.is_on or beside.is_on):
        return setting.is_on
    is_moved = _louder(pair, source) != 0 or setting.pan_percent != beside.pan_percent
    return is_moved or setting.is_on is not beside.is_on


def _why_not(show: Show, pair: _Pair, source: str, song: Converted) -> WhyNot | None:
    here = pair.sources.get(source)
    if here is None:
        return WhyNot.SOURCE_NOT_HERE
    if _LEAKS.intersection(song.send_notes[source]):
        return WhyNot.LEAKS
    if here not in show.levels[pair.mix.id].sends:
        return WhyNot.NOT_IN_MIX
    return WhyNot.NOT_BESIDE if source not in pair.beside.sends else None


def _change(pair: _Pair, source: str, song: Setting, beside: Setting) -> SongChange:
    is_on = None if song.is_on is beside.is_on else song.is_on
    pan = song.pan_percent - beside.pan_percent
    return SongChange(pair.mix.id, pair.sources[source], _louder(pair, source), pan, is_on)


def _louder(pair: _Pair, source: str) -> int:
    """Return how much higher a source stood in the song, send and preamp together. [0.1 dB]."""
    song, beside = (
        one.sends[source].level_tenths + one.gains.get(source, 0) for one in (pair.song, pair.beside)
    )
    return song - beside


def _converted(show: Show, pair: _Pair, kept: KeptMix) -> Converted:
    """Return a kept mix as it would start here: its ids, its pans, and what would leak left out."""
    sources = {one: show.sources[here] for one, here in pair.sources.items()}
    pans = pans_of(show, pair.mix.id, [sources[one] for one in kept.sends if one in sources])
    takes_click = any(
        show.levels[pair.mix.id].at(one.id) is not None
        for one in sources.values()
        if one.use is SourceUse.CLICK
    )
    task = Task(kept, as_kept(kept, pair.known), pair.mix, sources, pans, show.settings)
    return convert(task, Levels(takes_click=takes_click))
