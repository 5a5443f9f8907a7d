"""A stage as full as any: sixty sources, eight mixes, and names as long and as foreign as people have them."""

from collections.abc import Iterator

from monreq.domain import commands as c
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind, SourceUse
from monreq.domain.stage_commands import PlaceOnStage
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from tests.support.stage import Stage

NAME = "Harbour night"
LONG = "Second flugelhorn of the travelling village fair wind band's"
MARKUP = "<b>{nb}</b> **Bo** & co"
ARABIC = "سارة بنت علي"
JAPANESE = "田中 花子"
PLAYERS = (ARABIC, JAPANESE, MARKUP, LONG, "Олег", "Zoë", "Ada", "Ben")
SOURCES = 60
_SPECIAL = {3: LONG, 4: ARABIC, 5: JAPANESE, 6: MARKUP}


def crowded_commands() -> Iterator[c.Command]:
    """Give what sets it up: wedges and in-ear pairs in turns, everybody on stage in one row."""
    for number in range(1, SOURCES + 1):
        name = _SPECIAL.get(number, f"Source {number}")
        yield c.PutSource(Source(f"s{number}", name, SourceKind.OPEN_MIC, is_stereo=number % 7 == 0))
    yield c.PutSource(Source("click", "Click", SourceKind.DIRECT, use=SourceUse.CLICK))
    for number, name in enumerate(PLAYERS, 1):
        is_pair = number % 2 == 1
        output = Output.IN_EAR_PAIR if is_pair else Output.WEDGE
        yield c.PutMusician(Musician(f"p{number}", name))
        yield c.PutMix(Mix(f"m{number}", name, output, (f"p{number}",)))
        yield c.PutSend(f"m{number}", "s1", Setting(-125, pan_percent=-35 if is_pair else 0))
        yield c.PutSend(f"m{number}", "s2", Setting(-30, is_on=False))
    row = [(f"p{number}", Standing(Spot(-675 + 150 * number, 250))) for number in range(1, len(PLAYERS) + 1)]
    beside = [(f"s{number}", SourcePlace(beside=f"p{number}")) for number in range(1, 9)]
    yield PlaceOnStage(tuple(row), tuple(beside))


def crowded_stage() -> Stage:
    """Return a stage on which it is set up."""
    stage = Stage(NAME)
    for command in crowded_commands():
        stage.do(command)
    return stage
