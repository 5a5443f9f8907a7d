"""The state of a show: an immutable value, the fold of its log, small enough to keep in memory."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from monreq.domain.band_ids import BandIds
from monreq.domain.decisions import Decision
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.groups import Group
from monreq.domain.hearing import Verdict
from monreq.domain.kept_notes import KeepQuestion, KeptNote
from monreq.domain.levels import Levels, Position
from monreq.domain.line_check import LineCheck
from monreq.domain.notes import DeskNote
from monreq.domain.readings import EarLevel, MarginReading, PreampChange
from monreq.domain.refusals import SourceNotInMix, UnknownMix
from monreq.domain.requests import Call, Request, RowKey
from monreq.domain.setup import Mix, Musician, Output, Settings, Source
from monreq.domain.songs import Song, SongPlan, Stretch
from monreq.domain.stage_plan import SourcePlace, Standing, place_unless_said

Held = Mapping[str, int]
"""How far each source of a wedge was turned up along its path, at least, through one whole song. [0.1 dB]."""

Key = TypeVar("Key")
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Stood:
    """How one mix stood at a moment.

    Attributes:
        gains: How far preamps had been turned. [0.1 dB]
        at_ms, revision: When that was.
    """

    levels: Levels
    gains: Mapping[str, int]
    at_ms: int
    revision: int


@dataclass(frozen=True, slots=True)
class Disproof:
    """How a mix stood when musicians called that it hurts or squeals: so it is not safe.

    Attributes:
        output: What it came out of then.
        requests: The calls; when all of them are taken back, nothing is disproved.
    """

    mix: str
    output: Output
    call: Call
    stood: Stood
    requests: frozenset[str]


@dataclass(frozen=True, slots=True)
class Past:
    """What the guard has to know of the evening so far.

    Attributes:
        began: How each mix began the evening on its output, which the guard measures from: as at the first soundcheck
            mark, before it as levels were entered; a later mark never moves it.
        first_mark: The revision of the first soundcheck mark; None before it.
        before_raises: How each mix stood before moves, the oldest first: see `guard_ear.moments_of_gap`.
        disproofs: What calls said of how mixes stood, the oldest first.
        last_heard: How far a send was turned up along its path when it was last on, by mix and source. [0.1 dB]
        held: How far what can ring was turned up while it stood whole songs, by wedge: see `fold_held`. [0.1 dB]
        held_so_far: The same in the song that runs: the least of what has been on all through it.
    """

    began: Mapping[tuple[str, Output], Stood] = field(default_factory=dict)
    first_mark: int | None = None
    before_raises: Mapping[str, tuple[Stood, ...]] = field(default_factory=dict)
    disproofs: tuple[Disproof, ...] = ()
    last_heard: Mapping[tuple[str, str], int] = field(default_factory=dict)
    held: Mapping[str, tuple[Held, ...]] = field(default_factory=dict)
    held_so_far: Mapping[str, Held] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Show:
    """One show at one revision.

    Attributes:
        revision: The number of events folded.
        at_ms: When the last of them was recorded. [ms since 1970, UTC]
        band: The stored band that plays, by id; empty if none was chosen.
        matched: What the things of the band that was taken over last are here; None if none was.
        sources: By id, in the order of the input list.
        groups: By id, in the order in which they were added; no id is a source's too.
        mixes: By id, in the order in which they were added.
        levels: By mix id.
        desk: What the desk has for monitors; None if nobody said.
        standings: Where musicians stand on the stage plan, by id; who is not in it is not placed.
        source_places: What was said of where sources stand, by id; see `place_of`.
        mark: The levels at the soundcheck mark, by mix id; None before it is set. A mix that comes from another output
            since is not in it.
        marked_gains: The preamps at the soundcheck mark, as in `gains`.
        past: What the guard has to know of the evening so far.
        readings: Feedback margins as read, by mix and source.
        ear_levels: Levels at the ear of one day as measured, the oldest first, by mix id.
        open_mics: How many mics are open now, as last counted; None if nobody did.
        gains: How far a preamp was turned in this show, by source. [0.1 dB]
        preamp_changes: Those planned or made, by id.
        songs: The set list, by id, in order.
        stretch: The song that runs, or the gap, and since when.
        stretch_before: What the last beginning of a song or gap can be taken back to; None if there is nothing.
        gaps_ms: How long each gap of this show took. [ms]
        song_plan: The moves last planned for a song; None if there were none.
        open_requests: Those that wait or are set aside, by id, in the order of asking.
        closed: Ids of requests that were answered, withdrawn or cancelled out.
        decisions: By id, all of them: any can be undone.
        latest: The standing decision that answered a row last, by row.
        notes: The desk's last notes, by id, the newest last.
        line_check: The one that runs, or the last; None if there was none.
        to_hear: The decisions about which phones ask how it sounds, by mix id.
        heard: What was said about decisions, by their ids.
        keep_questions: What the desk asked last about keeping, by mix id.
        kept_notes: What was kept last of a mix, by its id.
        codes: How often a code was replaced, by mix id; None is the desk's.
        changed_at: The last revision that changed what a mix's phones show, by mix id.
    """

    id: str
    revision: int = 0
    at_ms: int = 0
    name: str = ""
    is_demo: bool = False
    is_open: bool = False
    band: str = ""
    matched: BandIds | None = None
    settings: Settings = field(default_factory=Settings)
    sources: Mapping[str, Source] = field(default_factory=dict)
    musicians: Mapping[str, Musician] = field(default_factory=dict)
    groups: Mapping[str, Group] = field(default_factory=dict)
    mixes: Mapping[str, Mix] = field(default_factory=dict)
    levels: Mapping[str, Levels] = field(default_factory=dict)
    desk: DeskFacts | None = None
    standings: Mapping[str, Standing] = field(default_factory=dict)
    source_places: Mapping[str, SourcePlace] = field(default_factory=dict)
    mark: Mapping[str, Levels] | None = None
    marked_at_ms: int | None = None
    marked_gains: Mapping[str, int] = field(default_factory=dict)
    past: Past = field(default_factory=Past)
    readings: Mapping[tuple[str, str], MarginReading] = field(default_factory=dict)
    ear_levels: Mapping[str, tuple[EarLevel, ...]] = field(default_factory=dict)
    open_mics: int | None = None
    gains: Mapping[str, int] = field(default_factory=dict)
    preamp_changes: Mapping[str, PreampChange] = field(default_factory=dict)
    songs: Mapping[str, Song] = field(default_factory=dict)
    stretch: Stretch = field(default_factory=Stretch)
    stretch_before: Stretch | None = None
    gaps_ms: tuple[int, ...] = ()
    song_plan: SongPlan | None = None
    open_requests: Mapping[str, Request] = field(default_factory=dict)
    closed: frozenset[str] = frozenset()
    decisions: Mapping[str, Decision] = field(default_factory=dict)
    latest: Mapping[RowKey, str] = field(default_factory=dict)
    notes: Mapping[str, DeskNote] = field(default_factory=dict)
    line_check: LineCheck | None = None
    to_hear: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    heard: Mapping[str, Verdict] = field(default_factory=dict)
    keep_questions: Mapping[str, KeepQuestion] = field(default_factory=dict)
    kept_notes: Mapping[str, KeptNote] = field(default_factory=dict)
    codes: Mapping[str | None, int] = field(default_factory=dict)
    changed_at: Mapping[str, int] = field(default_factory=dict)

    @property
    def song(self) -> str | None:
        """The song that runs or comes next, by id; None if nobody said."""
        return self.stretch.song

    @property
    def is_running(self) -> bool:
        """Whether a song runs, as the desk said."""
        return self.stretch.is_running

    @property
    def phase_at_ms(self) -> int | None:
        """When the song or gap began, in milliseconds since 1970, UTC; None before the first song."""
        return self.stretch.at_ms

    @property
    def waiting_song_plan(self) -> str | None:
        """The id of the moves planned for a song, unless the desk goes on without them."""
        return None if self.song_plan is None or self.song_plan.is_dropped else self.song_plan.id

    def mix(self, mix: str) -> Mix:
        """Return a mix's facts.

        Raises:
            UnknownMix: There is none of this id.
        """
        if mix not in self.mixes:
            raise UnknownMix
        return self.mixes[mix]

    def position(self, mix: str, source: str | None) -> Position:
        """Return where a send, or the output (None), of a mix stands.

        Raises:
            UnknownMix: There is no such mix.
            SourceNotInMix: The source is not on its list.
        """
        levels = self.levels.get(mix)
        if levels is None:
            raise UnknownMix
        position = levels.at(source)
        if position is None:
            raise SourceNotInMix
        return position

    def began_as_now(self, mix: str) -> Stood | None:
        """Return how a mix began the evening on the output that it comes out of; None if nobody set it yet."""
        return self.past.began.get((mix, self.mix(mix).output))

    def disproofs_of(self, mix: str, call: Call) -> tuple[Disproof, ...]:
        """Return what calls of a kind disproved of a mix, on the output that it comes out of."""
        output = self.mix(mix).output
        return tuple(
            one for one in self.past.disproofs if (one.mix, one.call, one.output) == (mix, call, output)
        )

    def sends_in_order(self, mix: str) -> list[tuple[Source, Position]]:
        """Return a mix's sends in the order of the input list."""
        sends = self.levels[mix].sends
        return [(source, sends[source.id]) for source in self.sources.values() if source.id in sends]

    def place_of(self, source: str) -> SourcePlace:
        """Return what holds of where a source of the input list stands, said or not."""
        said = self.source_places.get(source)
        return place_unless_said(self.sources[source]) if said is None else said

    def source_name(self, source: str | None) -> str | None:
        """Return the name of a source or group; None for the whole mix."""
        if source is None:
            return None
        named = self.sources.get(source) or self.groups.get(source)
        return source if named is None else named.name

    def musician_name(self, musician: str) -> str:
        """Return a musician's name, also of one who has left since."""
        return self.musicians[musician].sitting if musician in self.musicians else musician

    def generation(self, mix: str | None) -> int:
        """Return how often the code of a mix, or of the desk (None), was replaced."""
        return self.codes.get(mix, 0)

    def open_rows(self) -> Mapping[RowKey, tuple[Request, ...]]:
        """Return all open requests by row, in the order of asking."""
        gathered: dict[RowKey, list[Request]] = {}
        for request in self.open_requests.values():
            gathered.setdefault(request.key, []).append(request)
        return {key: tuple(requests) for key, requests in gathered.items()}

    def requests_in(self, key: RowKey) -> tuple[Request, ...]:
        """Return a row's open requests in the order of asking."""
        return tuple(request for request in self.open_requests.values() if request.key == key)


def with_past(show: Show, **changes: Any) -> Show:
    """Return a show with some of what the guard has to know made otherwise."""
    return replace(show, past=replace(show.past, **changes))


def without(mapping: Mapping[Key, Value], keys: Iterable[Key]) -> Mapping[Key, Value]:
    """Return a mapping without some keys."""
    gone = set(keys)
    return {key: value for key, value in mapping.items() if key not in gone}
