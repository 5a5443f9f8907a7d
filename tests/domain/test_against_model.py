"""Any evening comes out as a second, simpler account of adding up says it must."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from monreq.domain.refusals import (
    AlreadyAnswered,
    AlreadyUndone,
    OutsideRange,
    PanOutOfRange,
    UndoOutsideRange,
)
from tests.support.invariants import check
from tests.support.model import HIGHEST, LOWEST, Model, Place, RowName
from tests.support.stage import Stage, small_stage

MIX_OF = {"singer": "front", "bass": "ears", "drummer": "ears"}
PLACES: list[Place] = [(mix, source) for mix in ("front", "ears") for source in ("voice", None)]
MUSICIANS = st.sampled_from(sorted(MIX_OF))
SOURCES = st.sampled_from(["voice", None])
# Few figures, so that sums of nothing, and the ends of the range, come about often.
AMOUNTS = st.sampled_from([10, -10, 20, -20, 30, 120])
CHANGES = st.sampled_from([10, -10, 30, -30, 0, 7, 250, -250, 600])


def figure(stage: Stage, place: Place, kind: str) -> int:
    setting = stage.setting(*place)
    return setting.pan_percent if kind == "pan" else setting.level_tenths


def model_of(stage: Stage) -> Model:
    return Model({(place, kind): figure(stage, place, kind) for place in PLACES for kind in ("level", "pan")})


class Evening(RuleBasedStateMachine):
    """Three musicians ask, the desk answers, both accounts are kept and compared after every step."""

    def __init__(self) -> None:
        super().__init__()
        self.stage = small_stage()
        self.model = model_of(self.stage)

    @rule(musician=MUSICIANS, source=SOURCES, amount=AMOUNTS)
    def ask_for_level(self, musician: str, source: str | None, amount: int) -> None:
        mix = MIX_OF[musician]
        request = self.stage.ask(mix, source, amount, musician)
        self.model.ask(request, (mix, source, "level"), musician, amount)

    @rule(
        musician=st.sampled_from(["bass", "drummer"]),
        source=st.just("voice"),
        amount=AMOUNTS,
    )
    def ask_for_pan(self, musician: str, source: str, amount: int) -> None:
        request = self.stage.ask_pan("ears", source, amount, musician)
        self.model.ask(request, ("ears", source, "pan"), musician, amount)

    @precondition(lambda self: self.model.waiting())
    @rule(data=st.data())
    def withdraw(self, data: st.DataObject) -> None:
        request = data.draw(st.sampled_from(self.model.waiting()))
        self.stage.withdraw(request)
        self.model.withdraw(request)

    @precondition(lambda self: self.model.waiting())
    @rule(data=st.data(), change=CHANGES)
    def answer_as_done(self, data: st.DataObject, change: int) -> None:
        row, requests = self._some_of_a_row(data)
        if not self.model.can_move(row, change):
            with pytest.raises((OutsideRange, PanOutOfRange)):
                self.stage.done(*requests, change=change)
            return
        decision = self.stage.done(*requests, change=change)
        self.model.answer(decision, requests, change, "done")

    @precondition(lambda self: self.model.waiting())
    @rule(data=st.data())
    def answer_with_the_suggested_move(self, data: st.DataObject) -> None:
        _, requests = self._some_of_a_row(data)
        decision = self.stage.done(*requests)
        done = self.stage.show.decisions[decision].done
        assert done is not None
        self.model.answer(decision, requests, done, "done")

    @precondition(lambda self: self.model.waiting())
    @rule(data=st.data(), outcome=st.sampled_from(["not_done", "set_aside"]))
    def answer_otherwise(self, data: st.DataObject, outcome: str) -> None:
        _, requests = self._some_of_a_row(data)
        act = self.stage.not_done if outcome == "not_done" else self.stage.set_aside
        self.model.answer(act(*requests), requests, 0, outcome)

    @precondition(lambda self: self.model.decisions)
    @rule(data=st.data())
    def undo(self, data: st.DataObject) -> None:
        decision = data.draw(st.sampled_from(sorted(self.model.decisions)))
        undone = self.model.decisions[decision]
        if undone.is_undone:
            with pytest.raises(AlreadyUndone):
                self.stage.undo(decision)
        elif not self.model.can_move(undone.row, -undone.change):
            with pytest.raises(UndoOutsideRange):
                self.stage.undo(decision)
        else:
            self.stage.undo(decision)
            self.model.undo(decision)

    @rule(place=st.sampled_from(PLACES), level=st.integers(LOWEST["level"], HIGHEST["level"]))
    def correct(self, place: Place, level: int) -> None:
        self.stage.correct(*place, level=level)
        self.model.corrected[place, "level"] += level - self.model.figure(place, "level")

    @precondition(lambda self: len(self.model.wishes) > len(self.model.waiting()))
    @rule(data=st.data())
    def answer_what_no_longer_waits(self, data: st.DataObject) -> None:
        gone = data.draw(st.sampled_from(sorted(set(self.model.wishes) - set(self.model.waiting()))))
        with pytest.raises(AlreadyAnswered) as refused:
            self.stage.done(gone)
        assert refused.value.requests == (gone,)

    @invariant()
    def figures_agree(self) -> None:
        for place in PLACES:
            for kind in ("level", "pan"):
                assert figure(self.stage, place, kind) == self.model.figure(place, kind)

    @invariant()
    def queues_agree(self) -> None:
        rows = {(*(row.key.mix, row.key.source), row.key.kind.value): row for row in self.stage.rows}
        assert set(rows) == self.model.rows()
        for name, row in rows.items():
            assert [request.id for request in row.requests] == self.model.waiting(name)
            assert row.asked == self.model.total(name)
        aside = {one.id for one in self.stage.show.open_requests.values() if one.is_set_aside}
        assert aside == {wish for wish, one in self.model.wishes.items() if one.where == "aside"}

    @invariant()
    def show_is_in_order(self) -> None:
        check(self.stage.show, self.stage.log)

    def teardown(self) -> None:
        assert self.stage.at(self.stage.show.revision) == self.stage.show

    def _some_of_a_row(self, data: st.DataObject) -> tuple[RowName, list[str]]:
        row = data.draw(st.sampled_from(sorted(self.model.rows(), key=repr)))
        requests = st.lists(st.sampled_from(self.model.waiting(row)), min_size=1, unique=True)
        return row, data.draw(requests)


TestEvening = Evening.TestCase
TestEvening.settings = settings(max_examples=80, stateful_step_count=50, deadline=None)


@given(st.lists(st.tuples(MUSICIANS, SOURCES, AMOUNTS, CHANGES), max_size=25))
@settings(deadline=None)
def test_undoing_everything_leads_back_to_the_start(
    steps: list[tuple[str, str | None, int, int]],
) -> None:
    stage = small_stage()
    start = {place: stage.setting(*place) for place in PLACES}
    decisions = []
    for musician, source, amount, change in steps:
        request = stage.ask(MIX_OF[musician], source, amount, musician)
        kept = change if -900 <= stage.level(MIX_OF[musician], source) + change <= 100 else 0
        decisions.append(stage.done(request, change=kept))

    for decision in reversed(decisions):
        stage.undo(decision)

    assert {place: stage.setting(*place) for place in PLACES} == start
    assert all(decision.is_undone for decision in stage.show.decisions.values())
    assert not stage.show.latest


@given(st.lists(st.integers(-120, 120).filter(bool), min_size=1, max_size=40))
def test_sum_is_the_plain_sum_whatever_the_order(changes: list[int]) -> None:
    stage = small_stage()

    for change in changes:
        stage.ask("ears", "voice", change, "bass")

    row = stage.row("ears", "voice")
    assert (row.asked if row else 0) == sum(changes)
