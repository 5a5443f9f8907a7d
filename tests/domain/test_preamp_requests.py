"""What makes up for a preamp in the queue: it is the desk's alone, and stands beside what musicians ask."""

import pytest

from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.decide_asking import MOST_WAITING
from monreq.domain.refusals import NotYours
from monreq.domain.requests import RequestState
from monreq.domain.suggest import Suggestion
from monreq.domain.trail import trail
from tests.support.queue_rows import VOICE, about, suggestion
from tests.support.stage import Stage


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


def test_what_makes_up_for_two_sources_in_one_mix_does_not_cancel_out(stage: Stage) -> None:
    stage.turn_preamp(stage.plan_preamp("voice", 30), though_rows_wait=True)

    stage.turn_preamp(stage.plan_preamp("drums", -30))

    assert [(row.key.source, row.asked) for row in stage.rows if row.key.mix == "front"] == [
        ("voice", -30),
        ("drums", 30),
    ]
