"""A stage as full as any: sixty sources, eight mixes, and names as long and as foreign as people have them."""

from monreq.domain.setup import SourceKind, SourceUse
from monreq.domain.stage_commands import PlaceOnStage
from monreq.domain.stage_spread import spread
from tests.support.stage import Stage

LONG = "Second flugelhorn of the travelling village fair wind band's"
MARKUP = "<b>{nb}</b> **Bo** & co"
ARABIC = "سارة بنت علي"
JAPANESE = "田中 花子"
PLAYERS = (ARABIC, JAPANESE, MARKUP, LONG, "Олег", "Zoë", "Ada", "Ben")
SOURCES = 60


def crowded_stage() -> Stage:
    """Return a show whose mixes are wedges and in-ear pairs in turns, everybody on stage."""
    stage = Stage("Harbour night")
    for number in range(1, SOURCES + 1):
        stage.source(f"s{number}", _source_name(number), is_stereo=number % 7 == 0)
    stage.source("click", "Click", SourceKind.DIRECT, SourceUse.CLICK)
    for number, name in enumerate(PLAYERS, 1):
        stage.musician(f"p{number}", name)
        hear = stage.in_ears if number % 2 else stage.wedge
        mix = hear(f"m{number}", f"p{number}", name=LONG if number == 4 else f"Mix of {name}"[:60])
        stage.put(mix, "s1", -125, pan=-35 if number % 2 else 0)
        stage.put(mix, "s2", -30, is_on=False)
    stage.do(PlaceOnStage(tuple(spread(stage.show).items())))
    return stage


def _source_name(number: int) -> str:
    special = {3: LONG, 4: ARABIC, 5: JAPANESE, 6: MARKUP}
    return special.get(number, f"Source {number}")
