"""Events of mixes that start from other levels, as a band's in a show do; see `events` for their manner."""

from dataclasses import dataclass

from monreq.domain.setup import Setting


@dataclass(frozen=True, slots=True)
class LevelsCarried:
    """A mix starts from a kept one: planned settings, confirmed by nobody; the source None is the output."""

    mix: str
    settings: tuple[tuple[str | None, Setting], ...]


@dataclass(frozen=True, slots=True)
class LevelsPutLow:
    """A mix comes from another output, so that it starts low: planned settings, confirmed by nobody.

    The source None is the output.
    """

    mix: str
    settings: tuple[tuple[str | None, Setting], ...]


@dataclass(frozen=True, slots=True)
class BandMatched:
    """It was said what a band's sources and mixes are in the show: (id in the band, id here), ...; empty: left out."""

    band: str
    sources: tuple[tuple[str, str], ...]
    mixes: tuple[tuple[str, str], ...]


CarryEvent = BandMatched | LevelsCarried | LevelsPutLow
