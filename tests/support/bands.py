"""A band to carry over, and a show to carry it into: five sources, three musicians, a wedge and an in-ear pair."""

from collections.abc import Mapping
from dataclasses import replace

from monreq.domain.band import Band, KeptMix
from monreq.domain.carry_choices import Choices, match_band, proposed
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind, SourceUse
from monreq.domain.show import Show
from monreq.domain.stage_plan import SourcePlace, Spot, Standing

KEPT_AT_MS = 1_700_000_000_000

SOURCES = (
    Source("kick", "Kick", SourceKind.OPEN_MIC),
    Source("bass", "Bass", SourceKind.DIRECT),
    Source("keys", "Keys", SourceKind.DIRECT, is_stereo=True),
    Source("voice", "Lead voice", SourceKind.OPEN_MIC),
    Source("click", "Click", SourceKind.DIRECT, use=SourceUse.CLICK),
    Source("hall", "Hall mics", SourceKind.OPEN_MIC, is_stereo=True, use=SourceUse.AUDIENCE_MIC),
)
MUSICIANS = (
    Musician("singer", "Ada", is_lead=True, chair="Lead voice"),
    Musician("bassist", "Ben", chair="Bass"),
    Musician("drummer", "Cleo", chair="Drums"),
)
WEDGE = Mix("front", "Front", Output.WEDGE, ("singer",), "centre", (1,))
PAIR = Mix("ears", "Drums", Output.IN_EAR_PAIR, ("drummer",), "back", (3, 4), has_limiter=True)


def kept_mix(
    kept: str, mix: str, output: int, sends: Mapping[str, Setting], *, song: str | None = None, at: int = 0
) -> KeptMix:
    return KeptMix(kept, mix, kept.title(), Setting(output), sends, KEPT_AT_MS + at, song, "First evening")


FRONT = kept_mix(
    "kept1", "front", -60, {"voice": Setting(-40), "bass": Setting(-170), "keys": Setting(-120, is_on=False)}
)
EARS = kept_mix(
    "kept2",
    "ears",
    -120,
    {
        "kick": Setting(-90),
        "bass": Setting(-100, -30),
        "keys": Setting(-150, 20),
        "voice": Setting(-110, 60),
        "click": Setting(-140),
        "hall": Setting(-300),
    },
)
BAND = Band(
    "band1",
    "The Test Matches",
    sources=SOURCES,
    musicians=MUSICIANS,
    mixes=(WEDGE, PAIR),
    standings={
        "singer": Standing(Spot(0, 100)),
        "bassist": Standing(Spot(200, 300)),
        "drummer": Standing(Spot(0, 400)),
    },
    source_places={
        "kick": SourcePlace(beside="drummer", is_central=True),
        "bass": SourcePlace(beside="bassist", is_central=True),
        "voice": SourcePlace(beside="singer"),
    },
    kept=(FRONT, EARS),
)


def sure_choices(band: Band, show: Show, **changed: object) -> Choices:
    """Return what is proposed for a band in a show, with some of it chosen otherwise."""
    return replace(proposed(band, show, match_band(band, show)), **changed)  # type: ignore[arg-type]
