"""A band: what stays the same from one show to the next, with the mixes that were kept."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from monreq.domain.groups import Group
from monreq.domain.setup import Mix, Musician, Output, Setting, Source
from monreq.domain.songs import Song
from monreq.domain.stage_plan import SourcePlace, Standing


@dataclass(frozen=True, slots=True)
class KeptMix:
    """A mix stored under a name, for the whole show or for one song.

    Attributes:
        mix: The mix it was kept from, by id.
        song: The song it is for; None for the whole show.
        output: Where the mix's output stood.
        sends: Where each send stood, by source id.
        kept_at_ms: When. [ms since 1970, UTC]
        show_name: In which show, in words; may be empty.
        heard_as: How the mix was heard then, which decides how its levels are converted; None if nobody knows.
        was_fed_mono: Whether it was an in-ear pair fed from one output then.
        show: In which show, by id; empty if nobody knows.
        gains: How far preamps had been turned in that show, by source; levels of two moments compare with them added.
            [0.1 dB]
        lowered_tenths: By how much the output was kept lower than it stood, against the drift of the evening. [0.1 dB]
    """

    id: str
    mix: str
    name: str
    output: Setting
    sends: Mapping[str, Setting]
    kept_at_ms: int
    song: str | None = None
    show_name: str = ""
    heard_as: Output | None = None
    was_fed_mono: bool = False
    show: str = ""
    gains: Mapping[str, int] = field(default_factory=dict)
    lowered_tenths: int = 0


@dataclass(frozen=True, slots=True)
class Band:
    """One band, as its last show left it.

    Attributes:
        revision: How often it was changed; who changes it says which one they saw.
        sources, groups, musicians, mixes, songs: In order; ids as in the shows that were played from it.
        standings: Where musicians stand on the stage plan, by id.
        source_places: What was said of where sources stand, by id.
        kept: All kept mixes, the oldest first.
    """

    id: str
    name: str
    revision: int = 0
    sources: tuple[Source, ...] = ()
    groups: tuple[Group, ...] = ()
    musicians: tuple[Musician, ...] = ()
    mixes: tuple[Mix, ...] = ()
    songs: tuple[Song, ...] = ()
    standings: Mapping[str, Standing] = field(default_factory=dict)
    source_places: Mapping[str, SourcePlace] = field(default_factory=dict)
    kept: tuple[KeptMix, ...] = ()
