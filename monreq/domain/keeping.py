"""Keeping mixes of a show in its band, and putting what is kept in order."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from monreq.domain.band import Band, KeptMix
from monreq.domain.band_refusals import NothingToKeep, TooManyKept, UnknownSongOfBand
from monreq.domain.carry_refusals import UnknownKeptMix
from monreq.domain.levels import Levels
from monreq.domain.line_up import with_line_up
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from monreq.domain.texts import clean_name

MOST_KEPT = 1000  # chosen: twenty mixes in fifty songs; `TooManyKept` says it

Settings = Mapping[str | None, Setting]
"""Where a mix's output (None) and sends stand, by source."""


@dataclass(frozen=True, slots=True)
class ToKeep:
    """What to keep of a show.

    Attributes:
        mixes: Ids.
        name: What to call what is kept.
        song: The song it is for; None for the whole show.
        settings: By mix, what to keep of it other than what stands now, such as what lasted.
        lowered: By mix, how much lower than it stood the output among these settings is. [0.1 dB]
    """

    mixes: tuple[str, ...]
    name: str
    song: str | None = None
    settings: Mapping[str, Settings] = field(default_factory=dict)
    lowered: Mapping[str, int] = field(default_factory=dict)


def standing_settings(levels: Levels) -> Settings:
    """Return where a mix's output and sends stand."""
    settings: dict[str | None, Setting] = {None: levels.output.setting}
    settings.update((source, position.setting) for source, position in levels.sends.items())
    return settings


def kept_settings(kept: KeptMix) -> Settings:
    """Return where a kept mix's output and sends stood."""
    settings: dict[str | None, Setting] = {None: kept.output}
    settings.update(kept.sends.items())
    return settings


def keep(band: Band, show: Show, wanted: ToKeep, ids: Sequence[str], now_ms: int) -> Band:
    """Return a band with mixes of a show kept, and with the show's line-up.

    Args:
        band: As it is.
        show: As it stands now.
        wanted: What to keep of it.
        ids: Free ids, one a mix.
        now_ms: The time. [ms since 1970, UTC]

    Raises:
        NothingToKeep: No mix is named.
        UnknownMix: The show has no such mix.
        UnknownSongOfBand: Neither show nor band has such a song.
        NameRequired, TextTooLong: The name is none.
        TooManyKept: The band would have more than `MOST_KEPT`.
    """
    mixes = [show.mix(mix) for mix in dict.fromkeys(wanted.mixes)]
    if not mixes:
        raise NothingToKeep
    if wanted.song is not None and wanted.song not in {*show.songs, *(song.id for song in band.songs)}:
        raise UnknownSongOfBand
    name = clean_name(wanted.name)
    added = [
        KeptMix(
            id=kept,
            mix=mix.id,
            name=name,
            output=settings[None],
            sends={source: setting for source, setting in settings.items() if source is not None},
            kept_at_ms=now_ms,
            song=wanted.song,
            show_name=show.name,
            heard_as=mix.output,
            was_fed_mono=mix.is_fed_mono,
            show=show.id,
            gains={source: gain for source, gain in show.gains.items() if gain and source in settings},
            lowered_tenths=wanted.lowered.get(mix.id, 0),
        )
        for kept, mix in zip(ids, mixes, strict=False)
        for settings in [wanted.settings.get(mix.id) or standing_settings(show.levels[mix.id])]
    ]
    return with_line_up(checked(replace(band, kept=(*band.kept, *added))), show)


def checked(band: Band) -> Band:
    """Return a band as it may be stored.

    Raises:
        NameRequired, TextTooLong: Its name, or that of a kept mix, is none.
        TooManyKept: It has more than `MOST_KEPT`.
    """
    if len(band.kept) > MOST_KEPT:
        raise TooManyKept
    kept = tuple(replace(one, name=clean_name(one.name)) for one in band.kept)
    return replace(band, name=clean_name(band.name), kept=kept)


def with_kept_renamed(band: Band, kept: str, name: str) -> Band:
    """Return a band with a kept mix called otherwise.

    Raises:
        UnknownKeptMix: It has none of this id.
        NameRequired, TextTooLong: The name is none.
    """
    found = kept_mix(band, kept)
    renamed = replace(found, name=clean_name(name))
    return replace(band, kept=tuple(renamed if one.id == kept else one for one in band.kept))


def without_kept(band: Band, kept: Sequence[str]) -> Band:
    """Return a band without some kept mixes.

    Raises:
        UnknownKeptMix: It does not have one of them.
    """
    gone = {kept_mix(band, one).id for one in kept}
    return replace(band, kept=tuple(one for one in band.kept if one.id not in gone))


def kept_mix(band: Band, kept: str) -> KeptMix:
    """Return a kept mix.

    Raises:
        UnknownKeptMix: The band has none of this id.
    """
    for one in band.kept:
        if one.id == kept:
            return one
    raise UnknownKeptMix
