"""Bands of any kind, for property tests."""

import string
from dataclasses import replace
from typing import TypeVar

from hypothesis import strategies as st

from monreq.domain.band import Band, KeptMix
from monreq.domain.groups import Group
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind, SourceUse, TakenAt
from monreq.domain.songs import Song
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from monreq.domain.texts import NAME_LIMIT, clean

Thing = TypeVar("Thing")

IDS = st.text(string.ascii_lowercase + string.digits, min_size=1, max_size=12)
_YES_NO = st.booleans()
_SAID = st.none() | _YES_NO


NAMES = st.sampled_from(
    ["Kick", "</script><b>", "Stimme \N{LATIN SMALL LETTER U WITH DIAERESIS}", "声", "=1+1"]
) | st.text(max_size=40).map(lambda text: clean(f"n{text}", 400)[:NAME_LIMIT].strip())
_WORDS = st.text(max_size=40).map(lambda text: clean(text, 400)[:40].strip())
_LEVELS = st.integers(-900, 100)
_SETTINGS = st.builds(Setting, _LEVELS, st.integers(-100, 100), _YES_NO)
_OUTPUTS = st.builds(lambda level, is_on: Setting(level, is_on=is_on), _LEVELS, _YES_NO)
_SPOTS = st.builds(Spot, st.integers(-100_000, 100_000), st.integers(-100_000, 100_000))

SOURCES = st.builds(
    Source,
    IDS,
    NAMES,
    st.sampled_from(SourceKind),
    _YES_NO,
    st.sampled_from(SourceUse),
    st.integers(-300, 300),
    _YES_NO,
)
MUSICIANS = st.builds(Musician, IDS, NAMES, _YES_NO, _WORDS, _WORDS)
MIXES = st.builds(
    Mix,
    IDS,
    NAMES,
    st.sampled_from(Output),
    st.lists(IDS, max_size=3, unique=True).map(tuple),
    _WORDS,
    st.lists(st.integers(1, 999), max_size=2).map(tuple),
    _YES_NO,
    st.sampled_from(TakenAt),
    _SAID,
    _SAID,
    _SAID,
)
GROUPS = st.builds(Group, IDS, NAMES, st.lists(IDS, max_size=4).map(tuple), st.none() | IDS)
SONGS = st.builds(Song, IDS, NAMES)
KEPT = st.builds(
    KeptMix,
    IDS,
    IDS,
    NAMES,
    _OUTPUTS,
    st.dictionaries(IDS, _SETTINGS, max_size=4),
    st.integers(0, 4_000_000_000_000),
    st.none() | IDS,
    _WORDS,
    st.none() | st.sampled_from(Output),
    _YES_NO,
    st.just("") | IDS,
    st.dictionaries(IDS, st.integers(-600, 600), max_size=3),
    st.integers(0, 300),
)
_STANDINGS = st.builds(Standing, _SPOTS, st.integers(0, 359))
_PLACES = st.builds(SourcePlace, st.none() | _SPOTS, st.just("") | IDS, _YES_NO)


def _some(things: st.SearchStrategy[Thing]) -> st.SearchStrategy[tuple[Thing, ...]]:
    unique = st.lists(things, max_size=4, unique_by=lambda one: getattr(one, "id", None))
    return unique.map(tuple)


def _with_groups(band: Band, groups: tuple[Group, ...]) -> Band:
    """Give a band the groups whose ids its sources leave free: both are of one space."""
    taken = {one.id for one in band.sources}
    return replace(band, groups=tuple(one for one in groups if one.id not in taken))


_BANDS = st.builds(
    Band,
    id=IDS,
    name=NAMES,
    revision=st.just(0),
    sources=_some(SOURCES),
    groups=st.just(()),
    musicians=_some(MUSICIANS),
    mixes=_some(MIXES),
    songs=_some(SONGS),
    standings=st.dictionaries(IDS, _STANDINGS, max_size=3),
    source_places=st.dictionaries(IDS, _PLACES, max_size=3),
    kept=_some(KEPT),
)
BANDS = st.builds(_with_groups, _BANDS, _some(GROUPS))
