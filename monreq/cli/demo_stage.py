"""The demo's stage: what its desk has for monitors, and who stands where."""

from collections.abc import Iterator

from monreq.domain import commands as c
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.stage_commands import DescribeDesk, PlaceOnStage
from monreq.domain.stage_plan import SourcePlace, Spot, Standing

_DESK = DeskFacts(mono=16, internal_effects=1)

_MUSICIANS = {
    "lead": Standing(Spot(0, 100)),
    "bass": Standing(Spot(200, 350)),
    "trumpet": Standing(Spot(-320, 250), facing_deg=330),
    "sax": Standing(Spot(-400, 200), facing_deg=330),
    "drums": Standing(Spot(0, 420)),
    "accord": Standing(Spot(300, 150), facing_deg=20),
    "guitar": Standing(Spot(-220, 100)),
}

_SOURCES = {
    "kick": SourcePlace(beside="drums", is_central=True),
    "snare": SourcePlace(beside="drums"),
    "over": SourcePlace(beside="drums"),
    "bass": SourcePlace(beside="bass", is_central=True),
    "guitar": SourcePlace(Spot(-200, 220)),
    "accord": SourcePlace(beside="accord"),
    "trumpet": SourcePlace(beside="trumpet"),
    "sax": SourcePlace(beside="sax"),
    "lead": SourcePlace(beside="lead"),
    "gvoice": SourcePlace(beside="guitar"),
    "avoice": SourcePlace(beside="accord"),
}


def stage() -> Iterator[c.Command]:
    """Give what an engineer says of desk and stage at load-in."""
    yield DescribeDesk(_DESK)
    yield PlaceOnStage(tuple(_MUSICIANS.items()), tuple(_SOURCES.items()))
