"""Turning a preamp: what makes up for it in every mix, in the safe order, and what becomes of that."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.decide_asking import MOST_WAITING
from monreq.domain.drifts import drift_db
from monreq.domain.events import Recorded, RequestsCancelledOut, RequestWithdrawn, request_subject, subjects
from monreq.domain.margins import margin_of
from monreq.domain.measuring_events import PreampChangeDropped, PreampMoved
from monreq.domain.refusals import (
    ChangeTooLarge,
    NoChange,
    NotYours,
    PreampChangePlannedAlready,
    PreampMovedAlready,
    UndoImpossible,
    UnknownPreampChange,
    UnknownSource,
)
from monreq.domain.requests import Kind, RequestState, RowKey
from monreq.domain.setup import Mix, Output
from monreq.domain.suggest import Suggestion
from monreq.domain.trail import trail
from tests.support.stage import Stage, small_stage

VOICE = RowKey("front", "voice", Kind.LEVEL)


@pytest.fixture
def stage() -> Stage:
    return small_stage()


def about(stage: Stage, request: str) -> list[Recorded]:
    return [one for one in stage.log if request_subject(request) in subjects(one.event)]


def suggestion(stage: Stage, mix: str = "front") -> Suggestion:
    row = stage.row(mix, "voice")
    assert row is not None
    return row.suggestion


# Planning, in the safe order.


def test_before_a_gain_goes_up_every_mix_that_hears_the_source_is_to_go_down(stage: Stage) -> None:
    stage.correct("ears", "drums", is_on=False)
    voice, drums = stage.plan_preamp("voice", 60), stage.plan_preamp("drums", 30)

    rows = {row.key: (row.asked, row.suggestion.move) for row in stage.rows}

    assert rows == {
        VOICE: (-60, -60),
        RowKey("ears", "voice", Kind.LEVEL): (-60, -60),
        RowKey("front", "drums", Kind.LEVEL): (-30, -30),
    }
    assert list(stage.compensating(voice)) == ["front", "ears"]
    assert list(stage.compensating(drums)) == ["front"]


def test_what_makes_up_for_a_lower_gain_waits_until_the_gain_is_down(stage: Stage) -> None:
    change = stage.plan_preamp("voice", -60)
    before = stage.rows

    stage.turn_preamp(change)

    assert before == ()
    assert [(row.asked, row.suggestion.move) for row in stage.rows] == [(60, 60), (60, 60)]


def test_no_gain_counts_before_it_was_turned(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    before = stage.show.gains

    stage.turn_preamp(change)

    assert before == {}
    assert stage.show.gains == {"voice": 60}
    assert stage.show.preamp_changes[change].is_moved


def test_a_gain_that_was_turned_is_not_turned_twice(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    stage.turn_preamp(change)

    assert stage.do(m.ConfirmPreamp(change)) == ()
    assert stage.show.gains == {"voice": 60}


@pytest.mark.parametrize(
    ("change", "refusal"),
    [(0, NoChange), (301, ChangeTooLarge), (-301, ChangeTooLarge), (10**30, ChangeTooLarge)],
)
def test_a_change_that_cannot_be_is_refused(stage: Stage, change: int, refusal: type[Exception]) -> None:
    with pytest.raises(refusal):
        stage.plan_preamp("voice", change)


def test_a_preamp_of_no_source_is_refused(stage: Stage) -> None:
    with pytest.raises(UnknownSource):
        stage.plan_preamp("nosuch", 30)
    for step in (stage.turn_preamp, stage.drop_preamp):
        with pytest.raises(UnknownPreampChange):
            step("p1")


def test_one_change_is_planned_at_a_preamp_at_a_time(stage: Stage) -> None:
    first = stage.plan_preamp("voice", 60)
    with pytest.raises(PreampChangePlannedAlready):
        stage.plan_preamp("voice", -60)
    stage.turn_preamp(first)

    stage.plan_preamp("voice", 30)

    row = stage.row("front", "voice")
    assert row is not None
    assert (row.asked, row.by_musician) == (-90, ())


def test_a_gain_that_is_turned_back_cancels_what_was_still_to_make_up_for_it(stage: Stage) -> None:
    there = stage.plan_preamp("voice", 60)
    stage.turn_preamp(there)
    stage.done(stage.compensating(there)["front"])
    waiting = stage.compensating(there)["ears"]
    back = stage.plan_preamp("voice", -60)

    moved, _, new, gone = stage.do(m.ConfirmPreamp(back))

    assert moved == PreampMoved(back)
    assert gone == RequestsCancelledOut("ears", (waiting, f"r{stage.show.revision - 1}"))
    assert new == stage.log[-2].event
    assert list(stage.compensating(back)) == ["front"]


def test_what_makes_up_for_a_gain_that_is_only_planned_cancels_nothing(stage: Stage) -> None:
    down = stage.plan_preamp("voice", -60)
    stage.turn_preamp(down)
    up = stage.plan_preamp("voice", 60)
    planned = suggestion(stage)

    stage.drop_preamp(up)

    assert planned == Suggestion(0)
    assert suggestion(stage) == Suggestion(60, (Caution(CautionCode.PREAMP, 60),))
    assert list(stage.compensating(down)) == ["front", "ears"]


# Giving it up.


def test_a_dropped_change_takes_what_waits_for_it_along_and_nothing_else(stage: Stage) -> None:
    own = stage.ask("front", "voice", 30)
    change = stage.plan_preamp("voice", 60)
    waiting = stage.compensating(change)

    events = stage.do(m.DropPreampChange(change))

    withdrawn = [RequestWithdrawn(mix, request) for mix, request in waiting.items()]
    assert events == (PreampChangeDropped(change), *withdrawn)
    assert list(stage.show.open_requests) == [own]
    assert stage.show.preamp_changes == {}


def test_a_gain_that_was_turned_is_not_dropped(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    stage.turn_preamp(change)

    with pytest.raises(PreampMovedAlready):
        stage.drop_preamp(change)


def test_undo_of_what_made_up_for_a_dropped_change_moves_the_send_back_and_asks_nothing(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    decision = stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)

    stage.undo(decision)

    assert stage.level("front", "voice") == -200
    assert stage.rows == ()


# Only the desk's.


def test_a_phone_takes_back_nothing_that_makes_up_for_a_preamp(stage: Stage) -> None:
    waiting = stage.compensating(stage.plan_preamp("voice", 60))["front"]

    with pytest.raises(NotYours):
        stage.withdraw(waiting, mix="front")

    assert waiting in stage.show.open_requests


def test_the_desk_can_take_back_what_makes_up_for_a_preamp(stage: Stage) -> None:
    waiting = stage.compensating(stage.plan_preamp("voice", 60))["front"]

    stage.withdraw(waiting)

    assert stage.row("front", "voice") is None


def test_a_musician_who_asks_the_opposite_cancels_nothing_of_the_desks(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)

    own = stage.ask("front", "voice", 60)

    row = stage.row("front", "voice")
    assert row is not None
    assert {one.id for one in row.requests} == {own, stage.compensating(change)["front"]}
    assert (row.asked, row.by_musician, row.is_disagreement) == (0, (("singer", 60),), False)


def test_what_makes_up_for_a_preamp_counts_for_nobodys_limit(stage: Stage) -> None:
    for _ in range(MOST_WAITING - 1):
        stage.ask("front", "guitar", 10)
    stage.plan_preamp("voice", 60)

    stage.ask("front", "guitar", 10)

    assert len(stage.show.open_requests) == MOST_WAITING + 2


def test_the_desk_is_called_desk(stage: Stage) -> None:
    waiting = stage.compensating(stage.plan_preamp("voice", 60))["front"]

    assert stage.show.open_requests[waiting].musician == "desk"
    assert stage.show.musician_name("desk") == "desk"
    assert stage.log[-1].by == "desk"


# The row.


def test_what_makes_up_for_a_preamp_is_suggested_whole_beside_what_is_bounded(stage: Stage) -> None:
    stage.ask("front", "voice", 120)

    stage.plan_preamp("voice", 100)

    cautions = (Caution(CautionCode.PREAMP, -100), Caution(CautionCode.MARGIN_NOT_MEASURED, 30))
    assert suggestion(stage) == Suggestion(-70, cautions)


def test_musicians_who_disagree_do_not_keep_a_preamp_from_being_made_up_for(stage: Stage) -> None:
    stage.ask("ears", "voice", 30, "bass")
    stage.ask("ears", "voice", -10, "drummer")

    stage.plan_preamp("voice", 60)

    cautions = (Caution(CautionCode.PREAMP, -60), Caution(CautionCode.THEY_DISAGREE))
    assert suggestion(stage, "ears") == Suggestion(-60, cautions)


def test_a_send_at_the_end_of_its_range_goes_as_far_as_it_goes_and_says_so(stage: Stage) -> None:
    stage.put("front", "voice", -870)
    change = stage.plan_preamp("voice", 60)
    low = suggestion(stage)
    request = stage.compensating(change)["front"]
    stage.done(request)

    known = trail(stage.show, request, about(stage, request))

    cautions = (Caution(CautionCode.PREAMP, -60), Caution(CautionCode.END_OF_RANGE, -30))
    assert low == Suggestion(-30, cautions)
    assert known is not None
    assert (known.state, known.done) == (RequestState.DONE_IN_PART, -30)


def test_a_musician_reads_what_was_done_for_them_without_the_preamp(stage: Stage) -> None:
    own = stage.ask("front", "voice", 30)
    waiting = stage.compensating(stage.plan_preamp("voice", 60))["front"]
    decision = stage.done(own, waiting)

    answered = stage.show.decisions[decision]
    known, of_the_desk = (trail(stage.show, one, about(stage, one)) for one in (own, waiting))

    assert stage.level("front", "voice") == -230
    assert known is not None
    assert of_the_desk is not None
    assert (known.state, known.done) == (RequestState.DONE, 30)
    assert (of_the_desk.state, of_the_desk.done) == (RequestState.DONE, -30)
    assert (answered.asked_by_musicians, answered.done_for_musicians) == (30, 30)


def test_a_musician_who_got_nothing_beside_the_preamp_reads_so(stage: Stage) -> None:
    own = stage.ask("front", "voice", 30)
    waiting = stage.compensating(stage.plan_preamp("voice", 60))["front"]
    stage.done(own, waiting, change=-60)

    known = trail(stage.show, own, about(stage, own))

    assert known is not None
    assert (known.state, known.done) == (RequestState.DONE_IN_PART, 0)


def test_what_the_desk_did_for_a_preamp_is_no_answer_to_a_musician(stage: Stage) -> None:
    answer = stage.not_done(stage.ask("front", "voice", 30))
    own = stage.compensating(stage.plan_preamp("voice", 60))["front"]

    decision = stage.done(own)
    after_answer = stage.show.latest[VOICE]
    stage.undo(decision)

    assert (after_answer, stage.show.latest[VOICE]) == (answer, answer)


def test_undo_of_a_musicians_answer_leaves_none_though_the_desk_made_up_for_a_preamp(stage: Stage) -> None:
    answer = stage.done(stage.ask("front", "voice", 30))
    stage.done(stage.compensating(stage.plan_preamp("voice", 60))["front"])

    stage.undo(answer)

    assert VOICE not in stage.show.latest


# What becomes of it.


def test_undo_lets_what_makes_up_for_a_preamp_wait_again(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    request = stage.compensating(change)["front"]

    stage.undo(stage.done(request))

    assert stage.compensating(change)["front"] == request
    assert stage.level("front", "voice") == -200


def test_what_makes_up_for_a_preamp_outlives_a_mix_that_is_set_up_anew(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)

    stage.do(c.PutMix(Mix("front", "Centre", Output.WEDGE, ())))

    assert "front" in stage.compensating(change)


def test_a_musician_who_leaves_takes_nothing_of_the_desks_along(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)

    stage.do(c.RemoveMusician("singer"))

    assert "front" in stage.compensating(change)


def test_a_source_that_is_removed_takes_its_planned_change_along(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    decision = stage.done(stage.compensating(change)["front"])

    stage.do(c.RemoveSource("voice"))

    assert stage.rows == ()
    with pytest.raises(UnknownPreampChange):
        stage.turn_preamp(change)
    with pytest.raises(UndoImpossible):
        stage.undo(decision)


def test_a_source_that_comes_again_under_its_id_begins_with_its_gain_as_it_is(stage: Stage) -> None:
    stage.turn_preamp(stage.plan_preamp("voice", 60))
    stage.do(c.RemoveSource("voice"))

    stage.source("voice")

    assert stage.show.gains == {}


def test_a_mix_that_is_removed_is_not_made_up_for_any_more(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)

    stage.do(c.RemoveMix("ears"))

    assert list(stage.compensating(change)) == ["front"]


def test_a_preamp_turned_after_the_mark_is_drift_until_it_is_made_up_for(stage: Stage) -> None:
    stage.turn_preamp(stage.plan_preamp("guitar", 20))
    stage.mark()
    at_mark = drift_db(stage.show, "front")
    for source in ("voice", "drums"):
        stage.correct("front", source, is_on=False)
    stage.mark()

    stage.turn_preamp(stage.plan_preamp("guitar", 40))

    assert at_mark == 0.0
    assert drift_db(stage.show, "front") == pytest.approx(4.0)


def test_a_turned_preamp_concerns_every_mix(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)

    stage.turn_preamp(change)

    assert stage.show.changed_at == dict.fromkeys(("front", "ears"), stage.show.revision)


CHANGES = st.lists(st.integers(-60, 60).filter(bool), min_size=1, max_size=5)


@given(CHANGES, st.randoms(use_true_random=False))
def test_a_gain_made_up_for_in_every_mix_leaves_margins_and_drifts_as_they_were(
    changes: list[int], order: Random
) -> None:
    stage = small_stage()
    stage.read_margin("front", "voice", 90)
    stage.mark()
    for change in changes:
        planned = stage.plan_preamp("voice", change)
        steps = [*stage.compensating(planned).values(), None]
        order.shuffle(steps)
        for step in steps:
            if step is None:
                stage.turn_preamp(planned)
            else:
                stage.done(step)
            assert (margin_of(stage.show, "front", "voice").left_db or 0) <= 9.0 + 1e-9
        for late in stage.compensating(planned).values():
            stage.done(late)

    assert margin_of(stage.show, "front", "voice").left_db == pytest.approx(9.0)
    assert [drift_db(stage.show, mix) for mix in ("front", "ears")] == [pytest.approx(0.0, abs=1e-9)] * 2
    assert stage.rows == ()
