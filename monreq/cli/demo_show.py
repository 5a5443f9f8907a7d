"""The demo's evening: an invented band of seven in an invented hall, its soundcheck just behind it."""

from collections.abc import Iterator, Mapping

from monreq.cli import demo_band
from monreq.cli.demo_stage import stage
from monreq.domain import commands as c
from monreq.domain.band_commands import ChooseBand
from monreq.domain.group_commands import PutGroup
from monreq.domain.groups import Group
from monreq.domain.measuring_commands import CountOpenMics, ReadMargin
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind, SourceUse
from monreq.domain.song_commands import PutSetList

NAME = f"{demo_band.NAME}, Otterfold Hall"

_MIC, _DIRECT, _RETURN = SourceKind.OPEN_MIC, SourceKind.DIRECT, SourceKind.RETURN
_IN_EARS, _WEDGE = Output.IN_EAR_PAIR, Output.WEDGE

SOURCES = (
    Source("kick", "Kick", _MIC),
    Source("snare", "Snare", _MIC),
    Source("over", "Overheads", _MIC, is_stereo=True),
    Source("bass", "Bass", _DIRECT),
    Source("guitar", "Guitar", _MIC),
    Source("accord", "Accordion", _MIC),
    Source("trumpet", "Trumpet", _MIC),
    Source("sax", "Saxophone", _MIC),
    Source("lead", "Lead voice", _MIC),
    Source("gvoice", "Guitar voice", _MIC),
    Source("avoice", "Accordion voice", _MIC),
    Source("reverb", "Voice reverb", _RETURN),
    Source("click", "Click", _DIRECT, use=SourceUse.CLICK),
    Source("talk", "Talkback", _MIC, use=SourceUse.TALKBACK),
)

GROUPS = (
    Group("kit", "Drums", ("kick", "snare", "over")),
    Group("brass", "Horns", ("trumpet", "sax")),
    Group("backing", "Backing voices", ("gvoice", "avoice")),
)

MUSICIANS = (
    Musician("lead", "Lead voice", is_lead=True),
    Musician("bass", "Bass"),
    Musician("trumpet", "Trumpet"),
    Musician("sax", "Saxophone"),
    Musician("drums", "Drums"),
    Musician("accord", "Accordion"),
    Musician("guitar", "Guitar"),
)

MIXES = (
    Mix("lead", "Lead voice", _WEDGE, ("lead",), "centre", (1,)),
    Mix("bass", "Bass", _WEDGE, ("bass",), "back left", (3,)),
    Mix("horns", "Horns", _WEDGE, ("trumpet", "sax"), "right", (4,)),
    Mix("drums", "Drums", _IN_EARS, ("drums",), "back", (9, 10)),
    Mix("accord", "Accordion", _IN_EARS, ("accord",), "left", (11, 12)),
    Mix("guitar", "Guitar", _IN_EARS, ("guitar",), "front right", (13, 14)),
)

_Start = Mapping[str, tuple[int, int]]  # source to level [0.1 dB] and pan [%]; what is not named is off

_STARTS: Mapping[str, _Start] = {
    "lead": {
        "lead": (-40, 0),
        "gvoice": (-140, 0),
        "avoice": (-150, 0),
        "accord": (-130, 0),
        "guitar": (-160, 0),
        "kick": (-180, 0),
        "bass": (-170, 0),
        "reverb": (-220, 0),
    },
    "bass": {
        "bass": (-60, 0),
        "kick": (-110, 0),
        "snare": (-140, 0),
        "lead": (-80, 0),
        "accord": (-150, 0),
        "guitar": (-160, 0),
        "trumpet": (-190, 0),
    },
    "horns": {
        "trumpet": (-100, 0),
        "sax": (-100, 0),
        "lead": (-90, 0),
        "accord": (-120, 0),
        "bass": (-160, 0),
        "kick": (-170, 0),
        "snare": (-190, 0),
    },
    "drums": {
        "kick": (-90, 0),
        "snare": (-120, -10),
        "over": (-190, 0),
        "bass": (-100, 0),
        "lead": (-110, 0),
        "guitar": (-150, 40),
        "accord": (-160, -40),
        "trumpet": (-180, -60),
        "sax": (-180, -50),
        "click": (-140, 0),
        "talk": (-120, 0),
    },
    "accord": {
        "accord": (-60, 0),
        "avoice": (-70, 0),
        "lead": (-80, 30),
        "guitar": (-150, 50),
        "bass": (-140, 20),
        "kick": (-150, 20),
        "snare": (-170, 30),
        "trumpet": (-180, 60),
        "sax": (-180, 60),
        "reverb": (-200, 0),
        "click": (-200, 0),
        "talk": (-120, 0),
    },
    "guitar": {
        "guitar": (-70, 0),
        "gvoice": (-60, 0),
        "lead": (-90, -30),
        "accord": (-140, -50),
        "bass": (-130, -20),
        "kick": (-140, -20),
        "snare": (-160, -20),
        "over": (-220, -20),
        "reverb": (-200, 0),
        "click": (-180, 0),
        "talk": (-120, 0),
    },
}

_IN_EARS_ONLY = ("talk",)  # this band hears the desk in its in-ears; click is kept out of wedges by itself
_SOUNDCHECK = (
    ("bass", "bass", "kick", 30),
    ("drums", "drums", "click", 30),
    ("guitar", "guitar", "gvoice", 10),
    ("lead", "lead", "lead", 30),
)

_OPEN_MICS = 6
_READINGS = (("lead", "lead", 70), ("horns", "trumpet", 90), ("horns", "sax", 110))


def opening() -> c.OpenShow:
    """Return the command that begins the show."""
    return c.OpenShow(NAME, is_demo=True)


def set_up() -> Iterator[c.Command]:
    """Give what an engineer enters at load-in."""
    yield ChooseBand(demo_band.ID)
    yield from map(c.PutSource, SOURCES)
    yield from map(PutGroup, GROUPS)
    yield from map(c.PutMusician, MUSICIANS)
    for mix in MIXES:
        yield c.PutMix(mix)
        yield c.PutSend(mix.id, None, Setting(-100 if mix.output is _IN_EARS else -60))
        yield from _sends(mix)
    yield from stage()
    yield PutSetList(demo_band.SONGS)


def soundcheck_asks() -> Iterator[c.AskForLevel]:
    """Give what was asked, and done as asked, during the soundcheck."""
    for mix, musician, source, change in _SOUNDCHECK:
        yield c.AskForLevel(mix, musician, source, change)


def readings() -> Iterator[c.Command]:
    """Give the feedback margins that were read at the end of the soundcheck."""
    for mix, source, margin_tenths in _READINGS:
        yield ReadMargin(mix, source, margin_tenths, _OPEN_MICS)
    yield CountOpenMics(_OPEN_MICS)


def _sends(mix: Mix) -> Iterator[c.Command]:
    starts = _STARTS[mix.id]
    for source in SOURCES:
        if source.use is SourceUse.CLICK and mix.output is _WEDGE:
            continue
        if source.id in _IN_EARS_ONLY and mix.output is _WEDGE:
            yield c.RemoveSend(mix.id, source.id)
        elif source.id in starts:
            level, pan = starts[source.id]
            yield c.PutSend(mix.id, source.id, Setting(level, pan))
        else:
            yield c.PutSend(mix.id, source.id, Setting(-200, is_on=False))
