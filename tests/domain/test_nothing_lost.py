"""Whatever becomes of what the desk itself has waiting, nothing is raised twice and nothing is lost."""

from collections.abc import Callable
from dataclasses import dataclass, field

from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.queue import Row
from monreq.domain.refusals import Refusal
from monreq.domain.requests import Call, Kind, Outcome, Request
from monreq.domain.setup import Source, SourceKind
from monreq.domain.song_commands import BeginGap, BeginSong, PlanSongMoves, PutSetList, SongChange
from monreq.domain.songs import Song
from monreq.domain.telling_commands import TakeBackRaise
from tests.support.invariants import check
from tests.support.stage import Stage, small_stage

MIXES = ("front", "ears")
SOURCE = "guitar"


@dataclass
class Evening:
    """An evening around one source in two mixes, and how far up it is to come in each.

    Attributes:
        most: How far up it may come in each mix, by what was asked and by what hands set. [0.1 dB]
        given: By how much each answer changed that. [0.1 dB]
        given_up: The mix in which each *not done* was said.
    """

    stage: Stage = field(default_factory=small_stage)
    most: dict[str, int] = field(default_factory=dict)
    given: dict[str, tuple[str, int]] = field(default_factory=dict)
    given_up: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.stage.source(SOURCE)
        self.stage.read_margin("front", SOURCE, 40, open_mics=3)
        self.stage.do(PutSetList((Song("opener", "Opener"),)))
        self.most = {mix: self.to_come(mix) for mix in MIXES}

    def to_come(self, mix: str) -> int:
        """Return how far up the source will be once all that the desk itself has planned and waiting is done. [0.1 dB]."""
        show = self.stage.show
        waiting = sum(
            one.amount
            for one in show.open_requests.values()
            if one.key == (mix, SOURCE, Kind.LEVEL) and (one.is_put_back or one.is_for_preamp)
        )
        planned = sum(max(0, one.change_tenths) for one in show.preamp_changes.values() if not one.is_moved)
        return self.stage.level(mix, SOURCE) + show.gains.get(SOURCE, 0) + planned + waiting

    def step(self, kind: str, one: int, other: int) -> None:
        """Do one step; what is refused is no step."""
        try:
            getattr(self, f"_{kind}")(one, other)
        except Refusal:
            return

    # What the desk plans, and works by its rows.

    def _plan(self, _: int, other: int) -> None:
        self.stage.plan_preamp(SOURCE, (60, -60, 30, -30, 100)[other % 5])

    def _turn(self, _: int, other: int) -> None:
        self.stage.turn_preamp(self._planned(), though_rows_wait=other % 3 > 0)

    def _drop(self, _: int, __: int) -> None:
        before = {mix: self.to_come(mix) for mix in MIXES}
        self.stage.drop_preamp(self._planned())
        for mix, stood in before.items():
            self.most[mix] += min(0, self.to_come(mix) - stood)

    def _planned(self) -> str:
        return next((one.id for one in self.stage.show.preamp_changes.values() if not one.is_moved), "")

    def _take(self, one: int, _: int) -> None:
        self._answer(one, lambda _: None)

    def _part(self, one: int, other: int) -> None:
        self._answer(one, lambda row: (row.asked or 0) * (other % 5) // 4)

    def _aside(self, one: int, _: int) -> None:
        if row := self._row(one):
            self.stage.set_aside(*(request.id for request in row.requests))

    def _undo_done(self, one: int, _: int) -> None:
        done = [
            decision
            for decision in self.stage.show.decisions.values()
            if not decision.is_undone and decision.outcome is not Outcome.NOT_DONE
        ]
        if done:
            self._undo_of(done[one % len(done)].id)

    def _wait(self, one: int, _: int) -> None:
        self.stage.wait((1, 40, 300)[one % 3])

    # What else comes about.

    def _ask(self, one: int, other: int) -> None:
        mix = MIXES[one % 2]
        musician = {"front": ("singer",), "ears": ("bass", "drummer")}[mix][other % len(mix) // 3 - 1]
        self.stage.ask(mix, SOURCE, (30, -30, 60, -60, 120)[other % 5], musician)

    def _song(self, one: int, other: int) -> None:
        changes = (SongChange(MIXES[one % 2], SOURCE, level_tenths=(40, -40, 80)[other % 3]),)
        self.stage.do(PlanSongMoves("opener", changes))

    def _stretch(self, one: int, _: int) -> None:
        self.stage.do(BeginSong() if one % 2 else BeginGap())

    def _far(self, one: int, other: int) -> None:
        self._answer(one, lambda row: (row.asked or 0) + (-50, 50, -200)[other % 3])

    def _not_done(self, one: int, _: int) -> None:
        if row := self._row(one):
            mix, before = row.key.mix, self.to_come(row.key.mix)
            decision = self.stage.not_done(*(request.id for request in row.requests))
            down = sum(
                request.amount for request in row.requests if request.amount < 0 and request.is_for_preamp
            )
            more = self.to_come(mix) - before
            assert more <= -down
            self.most[mix] += max(0, more)
            self.given_up[decision] = mix

    def _undo(self, one: int, _: int) -> None:
        standing = [decision.id for decision in self.stage.show.decisions.values() if not decision.is_undone]
        if standing:
            self._undo_of(standing[one % len(standing)])

    def _hurts(self, one: int, other: int) -> None:
        mix = MIXES[one % 2]
        call = self.stage.call(mix, Call.HURTS, {"front": "singer", "ears": "bass"}[mix])
        before, stood = self.to_come(mix), self.stage.level(mix, SOURCE)
        over = self._to_put_back(mix)
        self.stage.do(TakeBackRaise((call,), SOURCE, stood - (10, 30, 60)[other % 3]))
        decision = list(self.stage.show.decisions)[-1]
        lowered = self.stage.level(mix, SOURCE) - stood
        assert self._to_put_back(mix) == 0
        assert self.to_come(mix) == before + lowered - over
        self.given[decision] = (mix, lowered)
        self.most[mix] += lowered - over

    def _to_put_back(self, mix: str) -> int:
        waiting = self.stage.show.open_requests.values()
        return sum(one.amount for one in waiting if one.key == (mix, SOURCE, Kind.LEVEL) and one.is_put_back)

    def _correct(self, one: int, other: int) -> None:
        mix = MIXES[one % 2]
        before, stood = self.to_come(mix), self.stage.level(mix, SOURCE)
        to = stood + (-60, -20, 0, 20, 60)[other % 5]
        self.stage.correct(mix, SOURCE, to)
        assert self.to_come(mix) - before <= to - stood
        self.most[mix] = self.to_come(mix)

    def _again(self, one: int, other: int) -> None:
        mix = MIXES[one % 2]
        self.stage.do(c.RemoveSend(mix, SOURCE))
        self.stage.put(mix, SOURCE, -200 - other % 7 * 10)
        self.most[mix] = self.to_come(mix)

    def _rename(self, one: int, _: int) -> None:
        self.stage.do(c.PutSource(Source(SOURCE, f"Guitar {one}", SourceKind.DIRECT)))

    def _anew(self, _: int, __: int) -> None:
        self.stage.do(c.RemoveSource(SOURCE))
        self.stage.source(SOURCE, kind=SourceKind.DIRECT)
        self.most = {mix: self.to_come(mix) for mix in MIXES}

    def _row(self, one: int) -> Row | None:
        rows = [row for row in self.stage.rows if row.key.kind is Kind.LEVEL]
        return rows[one % len(rows)] if rows else None

    def _answer(self, one: int, how_far: Callable[[Row], int | None]) -> None:
        row = self._row(one)
        if row is None:
            return
        mix, before = row.key.mix, self.to_come(row.key.mix)
        others = [one.amount for one in row.requests if not one.is_put_back and not one.is_for_preamp]
        decision = self.stage.done(*(request.id for request in row.requests), change=how_far(row))
        done = self.stage.show.decisions[decision].done or 0
        more = self.to_come(mix) - before
        assert more <= sum(max(amount, 0) for amount in others) + max(0, done - (row.asked or 0))
        assert more >= sum(min(amount, 0) for amount in others) + min(0, done)
        up = [request.amount for request in row.requests if request.is_put_back]
        if all(not request.group or request.is_put_back for request in row.requests) and sum(others) >= 0:
            assert self._to_put_back(mix) == max(0, sum(up) - max(0, done))
        self.given[decision] = (mix, more)
        self.most[mix] += more

    def _undo_of(self, decision: str) -> None:
        before = {mix: self.to_come(mix) for mix in MIXES}
        undone, stood = self.stage.show.decisions[decision], {mix: self._to_put_back(mix) for mix in MIXES}
        self.stage.undo(decision)
        if undone.requests and all(self._is_for_turned_gain(one) for one in undone.requests):
            assert {mix: self._to_put_back(mix) for mix in MIXES} == stood
        mix, given = self.given.pop(decision, ("front", 0))
        self.most[mix] -= given
        if mix := self.given_up.pop(decision, ""):
            self.most[mix] += min(0, self.to_come(mix) - before[mix])

    def _is_for_turned_gain(self, request: Request) -> bool:
        change = self.stage.show.preamp_changes.get(request.group)
        return change is not None and change.is_moved and request.amount < 0


BY_ROWS = ("plan", "turn", "drop", "take", "take", "part", "aside", "undo_done", "wait")
ALL = (
    *BY_ROWS,
    "ask",
    "song",
    "stretch",
    "far",
    "not_done",
    "undo",
    "hurts",
    "correct",
    "again",
    "rename",
    "anew",
)


def steps_of(kinds: tuple[str, ...]) -> st.SearchStrategy[list[tuple[str, int, int]]]:
    number = st.integers(0, 99)
    return st.lists(st.tuples(st.sampled_from(kinds), number, number), max_size=30)


@given(steps_of(BY_ROWS))
@settings(deadline=None)
def test_what_was_lowered_for_a_gain_comes_back_whole_and_once(steps: list[tuple[str, int, int]]) -> None:
    evening = Evening()
    stood = dict(evening.most)

    for step in steps:
        evening.step(*step)

        assert {mix: evening.to_come(mix) for mix in MIXES} == stood
    check(evening.stage.show, evening.stage.log)


@given(steps_of(ALL))
@settings(deadline=None, max_examples=200)
def test_nothing_comes_up_twice_whatever_is_asked_set_and_taken_back(
    steps: list[tuple[str, int, int]],
) -> None:
    evening = Evening()

    for step in steps:
        evening.step(*step)

        assert all(evening.to_come(mix) <= evening.most[mix] for mix in MIXES)
        check(evening.stage.show, evening.stage.log)
    assert evening.stage.at(evening.stage.show.revision) == evening.stage.show
