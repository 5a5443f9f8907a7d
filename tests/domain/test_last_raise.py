"""What is taken back first where a wedge squeals: the last raise there that still stands."""

from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import telling_commands as t
from monreq.domain.last_raise import LastRaise, last_raise
from monreq.domain.refusals import NotThisWay, OutsideRange, SourceNotInMix
from monreq.domain.requests import Call, Outcome, Way
from monreq.domain.setup import Setting
from monreq.domain.telling_refusals import NotACall, NotLower
from tests.support.stage import Stage, small_stage

SQUEAL_TENTHS = 30  # what the output goes down by at a squeal, in a show that nobody set otherwise


def raised(stage: Stage, source: str | None, change: int) -> str:
    """Ask the singer's wedge for a change and have exactly that done; returns the decision."""
    return stage.done(stage.ask("front", source, change), change=change)


def test_last_raise_is_the_latest_that_stands(stage: Stage) -> None:
    raised(stage, "drums", 20)
    stage.wait(60)
    raised(stage, "voice", 30)

    found = last_raise(stage.show, "front")

    assert found == LastRaise("voice", Setting(-170), -200)


def test_last_raise_is_nothing_where_nothing_was_raised(stage: Stage) -> None:
    raised(stage, "voice", -30)

    assert last_raise(stage.show, "front") is None


def test_last_raise_leaves_out_what_cannot_ring(stage: Stage) -> None:
    raised(stage, "voice", 30)
    raised(stage, "guitar", 40)

    found = last_raise(stage.show, "front")

    assert found is not None
    assert found.source == "voice"


def test_last_raise_counts_the_output(stage: Stage) -> None:
    raised(stage, "voice", 10)
    raised(stage, None, 30)

    found = last_raise(stage.show, "front")

    assert found is not None
    assert (found.source, found.back_to_tenths) == (None, 0)


def test_last_raise_that_was_undone_or_lowered_since_does_not_stand(stage: Stage) -> None:
    raised(stage, "drums", 30)
    stage.undo(raised(stage, "voice", 30))
    raised(stage, "voice", 20)
    stage.correct("front", "voice", -205)

    found = last_raise(stage.show, "front")

    assert found is not None
    assert found.source == "drums"


def test_last_raise_is_taken_back_as_far_as_it_stands(stage: Stage) -> None:
    raised(stage, "voice", 40)
    raised(stage, "voice", -10)

    found = last_raise(stage.show, "front")

    assert found is not None
    assert (found.now.level_tenths, found.back_to_tenths) == (-170, -200)


def test_last_raise_never_takes_back_more_than_was_raised(stage: Stage) -> None:
    raised(stage, "voice", 30)
    stage.correct("front", "voice", -100)

    found = last_raise(stage.show, "front")

    assert found is not None
    assert found.back_to_tenths == -130


@pytest.mark.parametrize(("change", "back_to"), [(29, None), (30, -200)])
def test_last_raise_that_is_less_than_the_output_would_go_down_is_not_taken_back(
    stage: Stage, change: int, back_to: int | None
) -> None:
    raised(stage, "voice", 60)
    raised(stage, "drums", change)

    found = last_raise(stage.show, "front")

    assert (found.back_to_tenths if found else None) == back_to


def test_last_raise_of_more_than_a_song_ago_is_not_likely_what_squeals(stage: Stage) -> None:
    raised(stage, "voice", 30)
    stage.wait(stage.show.settings.song_s + stage.show.settings.gap_s)
    stage.ask("front", "guitar", -10)
    at_the_end = last_raise(stage.show, "front")
    stage.wait(1)

    stage.ask("front", "guitar", -10)

    assert at_the_end is not None
    assert last_raise(stage.show, "front") is None


def test_last_raise_of_a_mic_that_was_put_in_is_to_take_it_out(stage: Stage) -> None:
    stage.correct("front", "voice", is_on=False)
    stage.done(stage.ask_in("front", "voice"))

    found = last_raise(stage.show, "front")

    assert found is not None
    assert (found.source, found.back_to_tenths) == ("voice", None)


def test_last_raise_before_the_soundcheck_mark_was_quiet_at_the_mark(stage: Stage) -> None:
    raised(stage, "voice", 30)
    stage.wait(1)
    stage.mark()

    assert last_raise(stage.show, "front") is None


def test_in_ears_have_no_raise_to_take_back(stage: Stage) -> None:
    stage.done(stage.ask("ears", "voice", 30, "bass"), change=30)

    assert last_raise(stage.show, "ears") is None


@given(
    st.lists(st.tuples(st.sampled_from(["voice", "drums", "guitar", None]), st.integers(-60, 60)), max_size=8)
)
def test_last_raise_takes_back_at_least_what_the_output_would_and_stays_above_what_was_before(
    moves: list[tuple[str | None, int]],
) -> None:
    stage = small_stage()
    for source, change in moves:
        if change and stage.level("front", source) + change <= stage.show.settings.highest_tenths:
            raised(stage, source, change)

    found = last_raise(stage.show, "front")

    if found is None:
        assert next(_standing(stage), 0) < SQUEAL_TENTHS
    else:
        assert found.back_to_tenths is not None
        assert found.now.level_tenths - found.back_to_tenths == next(_standing(stage)) >= SQUEAL_TENTHS
        call = stage.call("front", Call.SQUEAL)
        stage.do(t.TakeBackRaise((call,), found.source, found.back_to_tenths))
        assert stage.level("front", found.source) == found.back_to_tenths


def _standing(stage: Stage) -> Iterator[int]:
    """Yield how far each raise of what can ring still stands, the latest first. [0.1 dB]."""
    for decision in reversed(list(stage.show.decisions.values())):
        move = decision.move
        if move is not None and move.source != "guitar":
            raised_by = move.after.level_tenths - move.before.level_tenths
            stands_by = stage.level("front", move.source) - move.before.level_tenths
            if min(raised_by, stands_by) > 0:
                yield min(raised_by, stands_by)


def test_raise_taken_back_answers_the_call_and_is_recorded_as_the_move(stage: Stage) -> None:
    raised(stage, "voice", 30)
    call = stage.call("front", Call.SQUEAL)

    stage.do(t.TakeBackRaise((call,), "voice", -200, desk="Stage side"))

    decision = list(stage.show.decisions.values())[-1]
    assert stage.level("front", "voice") == -200
    assert call in stage.show.closed
    assert (decision.way, decision.desk) == (Way.LAST_RAISE, "Stage side")
    assert [(one.source, one.after.level_tenths) for one in decision.also] == [("voice", -200)]


def test_undo_of_a_raise_taken_back_lets_the_call_wait_and_does_not_go_back_to_where_it_squealed(
    stage: Stage,
) -> None:
    raised(stage, "voice", 60)
    call = stage.call("front", Call.SQUEAL)
    stage.do(t.TakeBackRaise((call,), "voice", -200))

    stage.undo(list(stage.show.decisions)[-1])

    assert stage.level("front", "voice") == -140 - stage.show.settings.reserve_tenths
    assert call in stage.show.open_requests
    row = stage.row("front", "voice")
    assert row is not None
    assert (row.asked, row.suggestion.move) == (30, 0)


def test_raise_taken_back_takes_out_what_was_put_in(stage: Stage) -> None:
    call = stage.call("front", Call.SQUEAL)

    stage.do(t.TakeBackRaise((call,), "voice", None))

    assert not stage.setting("front", "voice").is_on


def test_raise_is_not_taken_back_upwards_nor_beyond_the_desk(stage: Stage) -> None:
    call = stage.call("front", Call.SQUEAL)

    for level, refusal in ((-200, NotLower), (-100, NotLower), (-5000, OutsideRange)):
        with pytest.raises(refusal):
            stage.do(t.TakeBackRaise((call,), "voice", level))


def test_raise_is_not_taken_back_for_another_request_or_of_another_mixs_source(stage: Stage) -> None:
    request, call = stage.ask("front", "drums", 10), stage.call("front", Call.SQUEAL)

    with pytest.raises(NotACall):
        stage.do(t.TakeBackRaise((request,), "voice", -230))
    with pytest.raises(SourceNotInMix):
        stage.do(t.TakeBackRaise((call,), "click", -230))


def test_answer_cannot_claim_that_a_raise_was_taken_back(stage: Stage) -> None:
    call = stage.call("front", Call.SQUEAL)

    with pytest.raises(NotThisWay):
        stage.do(c.Answer((call,), Outcome.DONE, way=Way.LAST_RAISE))
