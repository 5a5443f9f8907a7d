"""What is kept, as pages show it: which mixes, what differs, and what a hand sets to bring one back."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from monreq.domain.band import Band, KeptMix
from monreq.domain.history import Difference
from monreq.domain.keeping_differences import ToSet, latest_kept, since_kept, to_set
from monreq.domain.setup import Output, Setting
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.clock import local_day
from monreq.web.speech import N_, _, listed

OUTPUT = "output"


@dataclass(frozen=True, slots=True)
class KeptLine:
    """A kept mix in the list.

    Attributes:
        song: The song's name; empty for the whole show.
        since: What stands otherwise now, in words; None where the show does not have the mix.
    """

    id: str
    mix: str
    mix_name: str
    name: str
    song: str
    show_name: str
    day: str
    since: tuple[str, ...] | None


@dataclass(frozen=True, slots=True)
class KeepSection:
    """What was kept before of a mix, beside the form that keeps it now.

    Attributes:
        last: What it was called; empty if nothing was kept of it yet.
        since: What stands otherwise now, in words.
    """

    last: str
    day: str
    since: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetLine:
    """A level to set on the desk.

    Attributes:
        value: What it stands for in the form, as `BroughtBackForm` reads it.
    """

    name: str
    now: str
    to: str
    value: str


@dataclass(frozen=True, slots=True)
class BackView:
    """Everything to set to bring a kept mix back, and what is told beside it, in sentences."""

    lines: tuple[SetLine, ...]
    told: tuple[str, ...]


class Names:
    """Names of a show's things, or of its band's where the show does not have them any more."""

    def __init__(self, show: Show, band: Band | None) -> None:
        self._show = show
        self._sources = {one.id: one.name for one in band.sources} if band else {}
        self._mixes = {one.id: one.name for one in band.mixes} if band else {}
        self._songs = {one.id: one.name for one in band.songs} if band else {}

    def source(self, source: str | None) -> str:
        """Return a source's name, or what the whole mix is called (None)."""
        if source is None:
            return _("whole mix")
        if source in self._show.sources:
            return self._show.sources[source].name
        return self._sources.get(source, source)

    def mix(self, mix: str) -> str:
        """Return a mix's name."""
        return self._show.mixes[mix].name if mix in self._show.mixes else self._mixes.get(mix, mix)

    def song(self, song: str | None) -> str:
        """Return a song's name; empty for the whole show (None)."""
        if song is None:
            return ""
        return self._show.songs[song].name if song in self._show.songs else self._songs.get(song, song)


def kept_lines(show: Show, band: Band) -> list[KeptLine]:
    """Return all kept mixes of a band: by mix in the show's order, the newest first."""
    names = Names(show, band)
    order = {mix: place for place, mix in enumerate(show.mixes)}
    kept = sorted(band.kept, key=lambda one: (order.get(one.mix, len(order)), one.mix, -one.kept_at_ms))
    return [kept_line(show, names, one) for one in kept]


def kept_line(show: Show, names: Names, kept: KeptMix) -> KeptLine:
    """Return one kept mix as the list has it."""
    is_here = kept.mix in show.mixes
    return KeptLine(
        id=kept.id,
        mix=kept.mix,
        mix_name=names.mix(kept.mix),
        name=kept.name,
        song=names.song(kept.song),
        show_name=kept.show_name,
        day=local_day(kept.kept_at_ms),
        since=changes(names, since_kept(show, kept.mix, kept)) if is_here else None,
    )


def keep_section(show: Show, band: Band | None, mix: str) -> KeepSection:
    """Return what was kept last of a mix for the whole show, and what changed since."""
    kept = latest_kept(band, mix) if band else None
    if kept is None:
        return KeepSection("", "", ())
    return KeepSection(
        kept.name, local_day(kept.kept_at_ms), changes(Names(show, band), since_kept(show, mix, kept))
    )


def back_view(show: Show, band: Band, kept: KeptMix) -> BackView:
    """Return what a hand sets to bring a kept mix back."""
    names, back = Names(show, band), to_set(show, kept)
    lines = tuple(_set_line(names, one, one.now) for one in back.moves if one.now is not None)
    return BackView(lines, tuple(_told(names, back, show.mix(kept.mix).output)))


def changes(names: Names, found: Iterable[Difference]) -> tuple[str, ...]:
    """Return differences in a few words each: Kick +4; Voice out."""
    return tuple(_change(names.source(one.source), one.then, one.now) for one in found)


def read_line(value: str) -> tuple[str | None, Setting] | None:
    """Return the source and setting that a line of the form stands for; None if it is none."""
    parts = value.split(":")
    if len(parts) != _PARTS or not all(part.removeprefix("-").isdecimal() for part in parts[1:]):
        return None
    source, (level, pan, is_on) = parts[0], (int(part) for part in parts[1:])
    return (None if source == OUTPUT else source), Setting(level, pan, bool(is_on))


_PARTS = 4

_RAISED = {
    Output.WEDGE: N_(
        "Goes up in a wedge: %(sources)s. Room and wedge may be others than when it was kept: raise in steps, tell the"
        " stage, stop at the first ring."
    ),
    Output.IN_EAR_PAIR: N_(
        "Goes up in ears: %(sources)s. Raise in steps, together with whoever wears them; packs low first."
    ),
}


def _set_line(names: Names, one: Difference, to: Setting) -> SetLine:
    source = OUTPUT if one.source is None else one.source
    return SetLine(
        name=names.source(one.source),
        now=_stands(one.then, one.now),
        to=_stands(to, one.then),
        value=f"{source}:{to.level_tenths}:{to.pan_percent}:{int(to.is_on)}",
    )


def _stands(setting: Setting | None, other: Setting | None) -> str:
    """Return where a setting stands, its pan only where that differs."""
    if setting is None:
        return ""
    if not setting.is_on:
        return _("off")
    level = wording.level(setting.level_tenths)
    if other is None or other.pan_percent == setting.pan_percent:
        return level
    return listed((level, wording.pan(setting.pan_percent)))


def _told(names: Names, back: ToSet, output: Output) -> Iterable[str]:
    if back.raised:
        yield _(_RAISED[output], sources=listed(map(names.source, back.raised)))
    if back.not_here:
        missing = listed(map(names.source, back.not_here))
        yield _("Kept, but not in this mix now: %(sources)s. It stays as it is.", sources=missing)
    if back.not_kept:
        others = listed(map(names.source, back.not_kept))
        yield _("Not kept then, and left as it stands: %(sources)s.", sources=others)
    if back.is_converted:
        yield _(
            "This mix was kept as it was heard in another way, or on packs of another evening. The levels here start low, with the balance kept:"
            " raise the output by ear, together with the musician."
        )


def _change(name: str, then: Setting | None, now: Setting | None) -> str:
    if then is None:
        return _("%(name)s new", name=name)
    if now is None:
        return _("%(name)s not in the mix any more", name=name)
    if then.is_on is not now.is_on:
        return _("%(name)s in", name=name) if now.is_on else _("%(name)s out", name=name)
    parts = []
    if then.level_tenths != now.level_tenths:
        parts.append(f"{name} {wording.signed(now.level_tenths - then.level_tenths)}")
    if then.pan_percent != now.pan_percent:
        parts.append(f"{name} {wording.pan(now.pan_percent)}")
    return listed(parts)


def songs_to_choose(show: Show, band: Band | None) -> Mapping[str, str]:
    """Return the names of the songs that a mix can be kept for, by id: the set list, then the band's others."""
    of_band = {one.id: one.name for one in band.songs} if band else {}
    return {one.id: one.name for one in show.songs.values()} | {
        song: name for song, name in of_band.items() if song not in show.songs
    }
