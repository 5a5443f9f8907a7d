"""The demo's band as it is stored: its line-up, and what it kept a week before, for the whole show and for a song."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from monreq.domain.band import Band, KeptMix
from monreq.domain.keeping import ToKeep, keep
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from monreq.domain.songs import Song
from monreq.services.bands import Bands

ID = "matches"
NAME = "The Damp Matches"

SONGS = (
    Song("ferry", "Last ferry"),
    Song("salt", "Salt on the stairs"),
    Song("lamp", "Slow lamp"),
    Song("orchard", "Orchard road"),
    Song("tin", "Tin weather"),
)

_A_WEEK_MS = 7 * 24 * 60 * 60 * 1000
_HALL, _HALL_ID = "Lower Fen Hall", "fen"

# What stood otherwise a week ago, by mix and source. [0.1 dB]
_A_WEEK_AGO: Mapping[str, Mapping[str, int]] = {
    "lead": {"accord": -30, "reverb": 20},
    "bass": {"kick": -40},
    "horns": {"lead": -20},
    "drums": {"click": -20, "bass": 10},
    "accord": {"guitar": 30},
    "guitar": {"gvoice": -10, "snare": -30},
}
_SLOW_LAMP: Mapping[str, Mapping[str, int]] = {
    "lead": {"reverb": 40, "kick": -60},
    "drums": {"snare": -50, "over": -40},
}


def store(bands: Bands, show: Show) -> None:
    """Store the band of the demo's show, unless it is stored."""
    if ID not in {entry.id for entry in bands.entries()}:
        bands.add(band_of(show))


def band_of(show: Show) -> Band:
    """Return the band with the line-up of the demo's show, and what it kept a week before."""
    then_ms = show.at_ms - _A_WEEK_MS
    everything = ToKeep(tuple(show.mixes), _HALL)
    for_song = ToKeep(tuple(_SLOW_LAMP), SONGS[2].name, SONGS[2].id)
    ids = [f"kept{number}" for number in range(1, len(show.mixes) + len(_SLOW_LAMP) + 1)]
    band = keep(Band(ID, NAME), show, everything, ids[: len(show.mixes)], then_ms)
    band = keep(band, show, for_song, ids[len(show.mixes) :], then_ms)
    return replace(band, kept=tuple(_as_it_was(band.kept)))


def _as_it_was(kept: tuple[KeptMix, ...]) -> Iterator[KeptMix]:
    for one in kept:
        then, song = _A_WEEK_AGO.get(one.mix, {}), _SLOW_LAMP.get(one.mix, {}) if one.song else {}
        sends = {
            source: _moved(setting, then.get(source, 0) + song.get(source, 0))
            for source, setting in one.sends.items()
        }
        yield replace(one, sends=sends, show=_HALL_ID, show_name=_HALL)


def _moved(setting: Setting, change_tenths: int) -> Setting:
    return replace(setting, level_tenths=setting.level_tenths + change_tenths)
