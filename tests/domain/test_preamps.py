"""Turning a preamp: what makes up for it in every mix, in the safe order, and how it is given up."""

import pytest

from monreq.domain import measuring_commands as m
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.events import RequestsCancelledOut, RequestWithdrawn
from monreq.domain.measuring_events import PreampChangeDropped, PreampMoved
from monreq.domain.preamp_refusals import (
    PreampChangePlannedAlready,
    PreampMovedAlready,
    PreampNotCompensated,
    UnknownPreampChange,
)
from monreq.domain.refusals import ChangeTooLarge, NoChange, UnknownSource
from monreq.domain.requests import Kind, RowKey
from monreq.domain.suggest import Suggestion
from tests.support.queue_rows import VOICE, suggestion
from tests.support.stage import Stage


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

    stage.turn_preamp(change, though_rows_wait=True)

    assert before == {}
    assert stage.show.gains == {"voice": 60}
    assert stage.show.preamp_changes[change].is_moved


def test_a_gain_is_turned_up_once_every_mix_was_lowered_and_else_said_to_be_so_against_what_waits(
    stage: Stage,
) -> None:
    change = stage.plan_preamp("voice", 60)
    stage.done(stage.compensating(change)["front"])

    with pytest.raises(PreampNotCompensated, match=r"\(open: Rhythm in-ears\)"):
        stage.turn_preamp(change)
    refused = stage.show.gains
    stage.done(stage.compensating(change)["ears"])
    stage.turn_preamp(change)

    assert refused == {}
    assert stage.show.gains == {"voice": 60}


def test_a_gain_that_was_turned_is_not_turned_twice(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    stage.turn_preamp(change, though_rows_wait=True)

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
    stage.turn_preamp(first, though_rows_wait=True)

    stage.plan_preamp("voice", 30)

    row = stage.row("front", "voice")
    assert row is not None
    assert (row.asked, row.by_musician) == (-90, ())


def test_a_gain_that_is_turned_back_cancels_what_was_still_to_make_up_for_it(stage: Stage) -> None:
    there = stage.plan_preamp("voice", 60)
    stage.turn_preamp(there, though_rows_wait=True)
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
    stage.turn_preamp(change, though_rows_wait=True)

    with pytest.raises(PreampMovedAlready):
        stage.drop_preamp(change)


def test_a_dropped_change_asks_back_up_what_was_lowered_for_it(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    stage.done(stage.compensating(change)["front"], change=-40)

    stage.drop_preamp(change)

    (row,) = stage.rows
    assert (row.key, row.asked, row.by_musician) == (VOICE, 40, ())
    stage.done(*(one.id for one in row.requests), change=40)
    assert stage.level("front", "voice") == -200


def test_undo_of_what_made_up_for_a_dropped_change_moves_the_send_back_and_asks_nothing(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    decision = stage.done(stage.compensating(change)["front"])
    stage.drop_preamp(change)

    stage.undo(decision)

    assert stage.level("front", "voice") == -200
    assert stage.rows == ()
