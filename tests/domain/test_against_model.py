"""Any evening comes out as a second, simpler account of adding up says it must."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import precondition, rule

from monreq.domain.preamp_refusals import (
    PreampChangePlannedAlready,
    PreampMovedAlready,
    PreampNotCompensated,
)
from monreq.domain.refusals import (
    AlreadyAnswered,
    AlreadyUndone,
    NotThisWay,
    OutsideRange,
    PanOutOfRange,
    UndoOutsideRange,
)
from monreq.domain.requests import Way
from tests.support.kept_twice import (
    AMOUNTS,
    CHANGES,
    MIX_OF,
    MUSICIANS,
    PLACES,
    SENDS,
    SOURCES,
    EveningKeptTwice,
    moved,
)
from tests.support.model import HIGHEST, LOWEST
from tests.support.model_parts import Place
from tests.support.stage import small_stage


class Evening(EveningKeptTwice):
    """Three musicians ask, the desk answers, both accounts are kept and compared after every step."""

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
        row, requests = self.some_of_a_row(data)
        if not self.model.can_move(row, change):
            with pytest.raises((OutsideRange, PanOutOfRange)):
                self.stage.done(*requests, change=change)
            return
        decision = self.stage.done(*requests, change=change)
        self.answered(decision, requests, moved(row, change), "done")

    @precondition(lambda self: self.model.waiting())
    @rule(data=st.data())
    def answer_with_the_suggested_move(self, data: st.DataObject) -> None:
        row, requests = self.some_of_a_row(data)
        decision = self.stage.done(*requests)
        done = self.stage.show.decisions[decision].done
        assert done is not None
        self.answered(decision, requests, moved(row, done), "done")

    @precondition(lambda self: self.model.waiting())
    @rule(data=st.data(), change=st.sampled_from([10, 30, 120]))
    def answer_at_the_same_loudness(self, data: st.DataObject, change: int) -> None:
        row, requests = self.some_of_a_row(data)
        before = self.stage.show
        try:
            decision = self.stage.done(*requests, change=change, way=Way.SAME_LOUDNESS)
        except (NotThisWay, OutsideRange):
            assert self.stage.show is before
            return
        (against,) = self.stage.show.decisions[decision].also
        output = against.after.level_tenths - against.before.level_tenths
        assert against.source is None
        assert -change <= output <= 0
        changes = moved(row, change) | moved((row[0], None, "level"), output)
        self.answered(decision, requests, changes, "done")

    @precondition(lambda self: self.model.waiting())
    @rule(data=st.data(), amount=st.sampled_from([10, 60, 700]))
    def answer_by_turning_the_rest_down(self, data: st.DataObject, amount: int) -> None:
        row, requests = self.some_of_a_row(data)
        before = self.stage.show
        try:
            decision = self.stage.done(*requests, change=amount, way=Way.REST_DOWN)
        except NotThisWay:
            assert self.stage.show is before
            return
        rest: list[Place] = [
            (row[0], source) for source in SENDS[row[0]] if source not in (row[1], "talk", "click")
        ]
        changes = {
            (place, "level"): max(-amount, LOWEST["level"] - self.model.figure(place, "level"))
            for place in rest
        }
        self.answered(decision, requests, changes, "done")

    @rule(change=st.sampled_from([60, -60, 30, -30]))
    def plan_a_preamp(self, change: int) -> None:
        if any(not preamp.is_turned for preamp in self.model.preamps.values()):
            with pytest.raises(PreampChangePlannedAlready):
                self.stage.plan_preamp("voice", change)
            return
        preamp = self.stage.plan_preamp("voice", change)
        self.model.plan(preamp, change)
        self.compensated(preamp, is_expected=change > 0)

    @precondition(lambda self: all(preamp.is_turned for preamp in self.model.preamps.values()))
    @rule(change=st.sampled_from([60, 30]), is_turned=st.booleans())
    def lower_for_a_preamp(self, change: int, is_turned: bool) -> None:  # noqa: FBT001 - drawn by name
        """Plan a preamp and lower for it; then turn it in a wedge at its reserve, or give it up."""
        self.plan_a_preamp(change)
        preamp = list(self.model.preamps)[-1]
        for mix, request in self.stage.compensating(preamp).items():
            decision = self.stage.done(request)
            done = self.stage.show.decisions[decision].done
            assert done is not None
            self.answered(decision, [request], moved((mix, "voice", "level"), done), "done")
        if is_turned:
            self.turn(preamp, though_rows_wait=True)
            self.stage.read_margin("front", "voice", 50, open_mics=3)
        else:
            self.give_up(preamp)

    @precondition(lambda self: self.model.preamps)
    @rule(data=st.data(), though_rows_wait=st.booleans())
    def turn_a_preamp(self, data: st.DataObject, though_rows_wait: bool) -> None:  # noqa: FBT001 - drawn by name
        self.turn(data.draw(st.sampled_from(sorted(self.model.preamps))), though_rows_wait=though_rows_wait)

    def turn(self, preamp: str, *, though_rows_wait: bool) -> None:
        planned = self.model.preamps[preamp]
        was_turned, before = planned.is_turned, self.stage.show
        if (
            not was_turned
            and planned.change > 0
            and self.model.is_waiting_for(preamp)
            and not though_rows_wait
        ):
            with pytest.raises(PreampNotCompensated):
                self.stage.turn_preamp(preamp)
            return
        self.stage.turn_preamp(preamp, though_rows_wait=though_rows_wait)
        if was_turned:
            assert self.stage.show is before
            return
        if planned.change < 0:
            self.compensated(preamp, is_expected=True)
        self.model.turn(preamp)

    @precondition(lambda self: self.model.preamps)
    @rule(data=st.data())
    def drop_a_preamp(self, data: st.DataObject) -> None:
        preamp = data.draw(st.sampled_from(sorted(self.model.preamps)))
        if self.model.preamps[preamp].is_turned:
            with pytest.raises(PreampMovedAlready):
                self.stage.drop_preamp(preamp)
            return
        self.give_up(preamp)

    def give_up(self, preamp: str) -> None:
        lowered, first_new = self.model.lowered_for(preamp), len(self.stage.log)
        self.stage.drop_preamp(preamp)
        self.model.drop(preamp)
        in_order = sorted(lowered, key=lambda one: one[2])
        self.waits_since(first_new, [((mix, "voice", "level"), up, preamp) for mix, up, _ in in_order])
        asked = self.put_back_since(first_new)
        for one, (_, _, is_settled) in zip(asked, in_order, strict=True):
            if is_settled:
                self.model.wishes[one.request].where = "withdrawn"

    @precondition(lambda self: self.model.waiting())
    @rule(data=st.data(), outcome=st.sampled_from(["not_done", "set_aside"]))
    def answer_otherwise(self, data: st.DataObject, outcome: str) -> None:
        _, requests = self.some_of_a_row(data)
        act = self.stage.not_done if outcome == "not_done" else self.stage.set_aside
        self.answered(act(*requests), requests, {}, outcome)

    @precondition(lambda self: self.model.decisions)
    @rule(data=st.data())
    def undo(self, data: st.DataObject) -> None:
        decision = data.draw(st.sampled_from(sorted(self.model.decisions)))
        undone = self.model.decisions[decision]
        if undone.is_undone:
            with pytest.raises(AlreadyUndone):
                self.stage.undo(decision)
        elif not self.model.can_undo(decision):
            with pytest.raises(UndoOutsideRange):
                self.stage.undo(decision)
        else:
            self.undone(decision)

    @rule(place=st.sampled_from(PLACES), level=st.integers(LOWEST["level"], HIGHEST["level"]))
    def correct(self, place: Place, level: int) -> None:
        first_new = len(self.stage.log)
        self.stage.correct(*place, level=level)
        left = self.model.correct(place, level)
        self.waits_since(first_new, [((*place, "level"), amount, preamp) for preamp, amount in left.items()])

    @precondition(lambda self: len(self.model.wishes) > len(self.model.waiting()))
    @rule(data=st.data())
    def answer_what_no_longer_waits(self, data: st.DataObject) -> None:
        gone = data.draw(st.sampled_from(sorted(set(self.model.wishes) - set(self.model.waiting()))))
        with pytest.raises(AlreadyAnswered) as refused:
            self.stage.done(gone)
        assert refused.value.requests == (gone,)


TestEvening = Evening.TestCase
TestEvening.settings = settings(max_examples=80, stateful_step_count=50, deadline=None)


@given(st.lists(st.tuples(MUSICIANS, SOURCES, AMOUNTS, CHANGES), max_size=25))
@settings(deadline=None)
def test_undoing_everything_and_putting_back_by_hand_what_that_held_back_leads_to_the_start(
    steps: list[tuple[str, str | None, int, int]],
) -> None:
    stage = small_stage()
    start = {place: stage.setting(*place) for place in PLACES}
    decisions = []
    for musician, source, amount, change in steps:
        request = stage.ask(MIX_OF[musician], source, amount, musician)
        kept = change if -900 <= stage.level(MIX_OF[musician], source) + change <= 100 else 0
        decisions.append(stage.done(request, change=kept))

    by_hand = []
    for decision in reversed(decisions):
        stage.undo(decision)
        held_back = [one for one in stage.show.open_requests.values() if one.is_put_back]
        by_hand += [stage.done(one.id, change=one.amount) for one in held_back]

    assert {place: stage.setting(*place) for place in PLACES} == start
    assert all(stage.show.decisions[decision].is_undone for decision in decisions)
    assert set(stage.show.latest.values()) <= set(by_hand)


@given(st.lists(st.integers(-120, 120).filter(bool), min_size=1, max_size=40))
def test_sum_is_the_plain_sum_whatever_the_order(changes: list[int]) -> None:
    stage = small_stage()

    for change in changes:
        stage.ask("ears", "voice", change, "bass")

    row = stage.row("ears", "voice")
    assert (row.asked if row else 0) == sum(changes)
