"""What becomes of what makes up for a preamp, and what it does to drifts and margins."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.drifts import drift_db
from monreq.domain.margins import margin_of
from monreq.domain.preamp_refusals import PreampNotCompensated, UnknownPreampChange
from monreq.domain.refusals import UndoImpossible
from monreq.domain.setup import Mix, Output
from tests.support.stage import Stage, small_stage


@pytest.mark.parametrize(("mix", "level"), [("front", -200), ("ears", -250)])
def test_undo_lets_what_makes_up_for_a_preamp_wait_again(stage: Stage, mix: str, level: int) -> None:
    change = stage.plan_preamp("voice", 60)
    request = stage.compensating(change)[mix]

    stage.undo(stage.done(request))

    assert stage.compensating(change)[mix] == request
    assert stage.level(mix, "voice") == level
    assert not any(one.is_put_back for one in stage.show.open_requests.values())


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
    stage.turn_preamp(stage.plan_preamp("voice", 60), though_rows_wait=True)
    stage.do(c.RemoveSource("voice"))

    stage.source("voice")

    assert stage.show.gains == {}


def test_a_mix_that_is_removed_is_not_made_up_for_any_more(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)

    stage.do(c.RemoveMix("ears"))

    assert list(stage.compensating(change)) == ["front"]


def test_a_preamp_turned_after_the_mark_is_drift_until_it_is_made_up_for(stage: Stage) -> None:
    stage.turn_preamp(stage.plan_preamp("guitar", 20), though_rows_wait=True)
    stage.mark()
    at_mark = drift_db(stage.show, "front")
    for source in ("voice", "drums", "talk"):
        stage.correct("front", source, is_on=False)
    stage.mark()

    stage.turn_preamp(stage.plan_preamp("guitar", 40), though_rows_wait=True)

    assert at_mark == 0.0
    assert drift_db(stage.show, "front") == pytest.approx(4.0)


def test_a_turned_preamp_concerns_every_mix(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)

    stage.turn_preamp(change, though_rows_wait=True)

    assert stage.show.changed_at == dict.fromkeys(("front", "ears"), stage.show.revision)


def test_what_was_lowered_in_part_waits_for_the_rest_before_the_gain_is_turned(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    stage.done(stage.compensating(change)["ears"])

    stage.done(stage.compensating(change)["front"], change=-40)

    row = stage.row("front", "voice")
    assert row is not None
    assert (row.asked, list(stage.compensating(change))) == (-20, ["front"])
    with pytest.raises(PreampNotCompensated):
        stage.turn_preamp(change)


def test_undo_of_what_was_lowered_in_part_waits_for_the_whole_once(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    decision = stage.done(stage.compensating(change)["front"], change=-40)

    stage.undo(decision)

    row = stage.row("front", "voice")
    assert row is not None
    assert (stage.level("front", "voice"), row.asked) == (-200, -60)


def test_not_done_alone_gives_up_the_rest_that_makes_up_for_a_gain(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    stage.done(stage.compensating(change)["front"], change=-40)
    own = stage.ask("front", "voice", -30)

    stage.not_done(own, stage.compensating(change)["front"])
    beside_a_musician = "front" in stage.compensating(change)
    stage.not_done(stage.compensating(change)["front"])

    assert (beside_a_musician, "front" in stage.compensating(change)) == (True, False)


def test_a_hand_that_goes_up_leaves_less_to_make_up_for_a_gain_turned_down(stage: Stage) -> None:
    change = stage.plan_preamp("voice", -60)
    stage.turn_preamp(change)

    stage.correct("front", "voice", -160)

    row = stage.row("front", "voice")
    assert row is not None
    assert row.asked == 20


def test_a_hand_that_goes_down_leaves_what_makes_up_for_a_gain_to_come_as_it_is(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)

    stage.correct("front", "voice", -260)

    row = stage.row("front", "voice")
    assert row is not None
    assert (row.asked, "front" in stage.compensating(change)) == (-60, True)


CHANGES = st.lists(st.integers(-60, 60).filter(bool), min_size=1, max_size=5)


@given(CHANGES, st.randoms(use_true_random=False))
def test_a_gain_made_up_for_in_every_mix_leaves_margins_and_drifts_as_they_were(
    changes: list[int], order: Random
) -> None:
    stage = small_stage()
    stage.read_margin("front", "voice", 90, open_mics=3)
    stage.mark()
    for change in changes:
        planned = stage.plan_preamp("voice", change)
        steps = [*stage.compensating(planned).values(), None]
        order.shuffle(steps)
        for step in steps:
            if step is None:
                stage.turn_preamp(planned, though_rows_wait=True)
            else:
                stage.done(step)
            assert (margin_of(stage.show, "front", "voice").left_db or 0) <= 9.0 + 1e-9
        for late in stage.compensating(planned).values():
            stage.done(late)

    assert margin_of(stage.show, "front", "voice").left_db == pytest.approx(9.0)
    assert [drift_db(stage.show, mix) for mix in ("front", "ears")] == [pytest.approx(0.0, abs=1e-9)] * 2
    assert stage.rows == ()
