"""A show to test with, built as the program builds one: every step is decided, recorded and folded.

    stage = small_stage()
    request = stage.ask("front", "voice", 30)
    decision = stage.done(request)
    stage.undo(decision)
    assert stage.show.position("front", "voice").setting.level_tenths == -200

Each step raises the `Refusal` that `decide` raised, and then leaves the show and its log as they were.
"""

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.decide import decide
from monreq.domain.events import DESK, ChangeAsked, Event, Recorded, RequestsAnswered, RequestWithdrawn
from monreq.domain.fold import fold
from monreq.domain.measuring_events import PreampChangePlanned
from monreq.domain.queue import Row, queue
from monreq.domain.requests import Call, Kind, Outcome, RowKey, Way
from monreq.domain.setup import Mix, Musician, Output, Setting, Source, SourceKind, SourceUse
from monreq.domain.show import Show
from monreq.domain.telling_events import LineHeard, NoteAnswered

START_MS = 1_700_000_000_000


class Stage:
    """An open show, at first without sources, musicians and mixes.

    Attributes:
        show: The state now.
        log: All that was recorded; `show` is the fold of it.
        now_ms: The time of the next step; it stands still until `wait`. [ms since 1970, UTC]
    """

    def __init__(self, name: str = "Evening", show_id: str = "show1", *, is_demo: bool = False) -> None:
        self.show = Show(show_id)
        self.log: list[Recorded] = []
        self.now_ms = START_MS
        self.do(c.OpenShow(name, is_demo=is_demo))

    def do(self, command: c.Command) -> tuple[Event, ...]:
        """Decide, record and fold any command; returns its events."""
        events = decide(self.show, command, self.now_ms)
        by = command.by or _who_asked(self.show, events)
        first = self.show.revision + 1
        recorded = [Recorded(first + place, self.now_ms, by, event) for place, event in enumerate(events)]
        self.show = fold(self.show, recorded)
        self.log.extend(recorded)
        return events

    def wait(self, seconds: float) -> None:
        """Let time pass."""
        self.now_ms += round(seconds * 1000)

    def at(self, revision: int) -> Show:
        """Return the show as it was right after a revision, folded anew from the log."""
        return fold(Show(self.show.id), self.log[:revision])

    # Setting up. Each returns the id it was given.

    def source(
        self,
        source: str,
        name: str = "",
        kind: SourceKind = SourceKind.OPEN_MIC,
        use: SourceUse = SourceUse.MUSIC,
        *,
        is_stereo: bool = False,
    ) -> str:
        self.do(c.PutSource(Source(source, name or source.title(), kind, is_stereo, use)))
        return source

    def musician(self, musician: str, name: str = "") -> str:
        self.do(c.PutMusician(Musician(musician, name or musician.title())))
        return musician

    def wedge(self, mix: str, *musicians: str, name: str = "") -> str:
        self.do(c.PutMix(Mix(mix, name or mix.title(), Output.WEDGE, musicians)))
        return mix

    def in_ears(self, mix: str, *musicians: str, name: str = "", is_fed_mono: bool = False) -> str:
        facts = Mix(mix, name or mix.title(), Output.IN_EAR_PAIR, musicians, is_fed_mono=is_fed_mono)
        self.do(c.PutMix(facts))
        return mix

    def put(self, mix: str, source: str | None, level: int, pan: int = 0, *, is_on: bool = True) -> None:
        """Enter a start setting: level in tenths of a dB, pan in percent; source None is the output."""
        self.do(c.PutSend(mix, source, Setting(level, pan, is_on)))

    # Asking. Each returns the request's id; the musician may be left out where the mix has only one.

    def ask(
        self,
        mix: str,
        source: str | None,
        change: int | c.NamedAmount,
        musician: str | None = None,
        *,
        by: str | None = None,
    ) -> str:
        """Ask for a change of level, in tenths of a dB or by name."""
        return self._asked(c.AskForLevel(mix, musician, source, change, by))

    def ask_pan(self, mix: str, source: str | None, percent: int, musician: str | None = None) -> str:
        return self._asked(c.AskForPan(mix, musician, source, percent))

    def ask_in(self, mix: str, source: str | None, musician: str | None = None) -> str:
        return self._asked(c.AskForInOrOut(mix, musician, source, is_in=True))

    def ask_out(self, mix: str, source: str | None, musician: str | None = None) -> str:
        return self._asked(c.AskForInOrOut(mix, musician, source, is_in=False))

    def ask_sound(self, mix: str, source: str | None, words: str, musician: str | None = None) -> str:
        return self._asked(c.AskAboutSound(mix, musician, source, words))

    def call(self, mix: str, call: Call, musician: str | None = None) -> str:
        return self._asked(c.CallDesk(mix, musician, call))

    def withdraw(self, request: str, mix: str | None = None) -> None:
        self.do(c.Withdraw(request, mix))

    # What the desk does. Answers return the decision's id.

    def done(
        self,
        *requests: str,
        change: int | None = None,
        read: int | None = None,
        why: str = "",
        way: Way = Way.PLAIN,
    ) -> str:
        """Answer as done: the suggested move, or a change, or the level read off the desk afterwards."""
        return self._answered(c.Answer(requests, Outcome.DONE, change, read, why, way))

    def not_done(self, *requests: str, why: str = "near_feedback") -> str:
        return self._answered(c.Answer(requests, Outcome.NOT_DONE, reason=why))

    def set_aside(self, *requests: str, why: str = "") -> str:
        return self._answered(c.Answer(requests, Outcome.SET_ASIDE, reason=why))

    def undo(self, decision: str) -> None:
        self.do(c.Undo(decision))

    def correct(
        self,
        mix: str,
        source: str | None,
        level: int | None = None,
        pan: int | None = None,
        is_on: bool | None = None,  # noqa: FBT001 - as in the command
    ) -> None:
        self.do(c.CorrectLevel(mix, source, level, pan, is_on))

    def mark(self) -> None:
        """Set the soundcheck mark."""
        self.do(c.MarkSoundcheck())

    # Measuring, and turning preamps.

    def read_margin(self, mix: str, source: str, margin: int, open_mics: int = 1) -> None:
        """Enter a feedback margin, in tenths of a dB."""
        self.do(m.ReadMargin(mix, source, margin, open_mics))

    def make_stale(self, mix: str, because: str = "another mic") -> None:
        self.do(m.MakeMarginsStale(mix, because))

    def open_mics(self, number: int) -> None:
        self.do(m.CountOpenMics(number))

    def plan_preamp(self, source: str, change: int) -> str:
        """Plan a change of gain, in tenths of a dB; returns its id."""
        events = self.do(m.PlanPreampChange(source, change))
        return next(event.change for event in events if isinstance(event, PreampChangePlanned))

    def turn_preamp(self, change: str, *, though_rows_wait: bool = False) -> None:
        """Say that the gain of a planned change was turned, even where not every mix was lowered for it."""
        self.do(m.ConfirmPreamp(change, though_rows_wait))

    def drop_preamp(self, change: str) -> None:
        self.do(m.DropPreampChange(change))

    def compensating(self, change: str) -> dict[str, str]:
        """Return what waits to make up for a preamp change: mix to request."""
        waiting = self.show.open_requests.values()
        return {one.key.mix: one.id for one in waiting if one.group == change}

    # Looking.

    @property
    def rows(self) -> tuple[Row, ...]:
        """The queue in working order."""
        return queue(self.show)

    def row(self, mix: str, source: str | None, kind: Kind = Kind.LEVEL) -> Row | None:
        """Return one row of the queue, None if nothing is open there."""
        return next((row for row in self.rows if row.key == RowKey(mix, source, kind)), None)

    def setting(self, mix: str, source: str | None) -> Setting:
        """Return where a send, or the output (None), stands."""
        return self.show.position(mix, source).setting

    def level(self, mix: str, source: str | None) -> int:
        """Return the level of a send, or of the output (None), in tenths of a dB."""
        return self.setting(mix, source).level_tenths

    def _asked(self, command: c.Ask) -> str:
        return next(event.request for event in self.do(command) if isinstance(event, ChangeAsked))

    def _answered(self, command: c.Answer) -> str:
        return next(event.decision for event in self.do(command) if isinstance(event, RequestsAnswered))


def _who_asked(show: Show, events: tuple[Event, ...]) -> str:
    match events[:1]:
        case (
            ChangeAsked(musician=musician) | NoteAnswered(musician=musician) | LineHeard(musician=musician),
        ):
            return musician
        case (RequestWithdrawn(request=request),):
            return show.open_requests[request].musician
        case _:
            return DESK


def small_stage(stage: Stage | None = None) -> Stage:
    """Return a band of three with two mixes.

    - `front`, a wedge for `singer` alone; every send stands at -20.0 dB, the output at 0.
    - `ears`, a stereo in-ear pair that `bass` and `drummer` share; sends at -25.0 dB, output at -10.0 dB.
    - sources `voice` and `drums` (open mics), `guitar` (direct), `talk` (talkback), `click` (in the ears only).
    """
    stage = stage or Stage()
    for musician in ("singer", "bass", "drummer"):
        stage.musician(musician)
    stage.wedge("front", "singer", name="Front wedge")
    stage.in_ears("ears", "bass", "drummer", name="Rhythm in-ears")
    stage.source("voice")
    stage.source("drums")
    stage.source("guitar", kind=SourceKind.DIRECT)
    stage.source("talk", kind=SourceKind.OPEN_MIC, use=SourceUse.TALKBACK)
    stage.source("click", kind=SourceKind.DIRECT, use=SourceUse.CLICK)
    return stage


def standing(show: Show) -> dict[str, dict[str | None, Setting]]:
    """Return where everything stands in each mix of a show."""
    return {mix: levels.settings for mix, levels in show.levels.items()}
