"""Moves for a song: what it asks of the mixes, what songs before left, how it adds up with what musicians ask."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import song_commands as so
from monreq.domain.requests import Kind, RequestState, RowKey
from monreq.domain.song_refusals import NotThisSong, UnknownSongPlan
from monreq.domain.songs import NotPlanned, WhyNot
from tests.support.queue_rows import VOICE, row
from tests.support.songs import LOUD_VOICE, SONGS, level, plan, waiting, work_all
from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage(stage: Stage) -> Stage:
    stage.do(so.PutSetList(SONGS))
    return stage


def test_song_asks_for_its_differences_of_sends_and_outputs(stage: Stage) -> None:
    plan(stage, "blue", (so.SongChange("front", "voice", -30), so.SongChange("ears", None, -20)))

    assert waiting(stage) == {VOICE: -30, RowKey("ears", None, Kind.LEVEL): -20}


def test_song_asks_for_pan_and_for_out_and_in(stage: Stage) -> None:
    wanted = (
        so.SongChange("ears", "voice", pan_percent=40),
        so.SongChange("ears", "drums", -650, is_on=False),
        so.SongChange("front", "voice", pan_percent=40),
    )

    plan(stage, "blue", wanted)

    assert waiting(stage) == {
        RowKey("ears", "voice", Kind.PAN): 40,
        RowKey("ears", "drums", Kind.IN_OUT): -1,
    }


def test_song_leaves_out_what_the_show_does_not_have(stage: Stage) -> None:
    plan(stage, "blue", (so.SongChange("gone", "voice", 10), so.SongChange("front", "horn", 10)))

    assert stage.rows == ()
    assert stage.show.song_plan is None


def test_moves_for_a_song_are_bounded_as_any_raise(stage: Stage) -> None:
    plan(stage, "blue", (so.SongChange("front", "voice", 100),))

    assert (row(stage, "front", "voice").asked, row(stage, "front", "voice").suggestion.move) == (100, 30)


def test_what_musicians_ask_adds_up_with_the_songs_target(stage: Stage) -> None:
    own = stage.ask("front", "voice", -10)
    plan(stage, "blue", LOUD_VOICE)
    together = row(stage, "front", "voice")
    song = next(one.id for one in together.requests if one.id != own)

    decision = stage.done(own, song)

    assert (together.asked, together.suggestion.move, level(stage)) == (30, 30, -170)
    answered = stage.show.decisions[decision]
    assert [answered.state_of(one) for one in answered.requests] == [RequestState.DONE] * 2
    assert (answered.done_for_musicians, answered.done_for_song) == (-10, 40)


def test_musicians_get_theirs_first_when_less_is_done(stage: Stage) -> None:
    own = stage.ask("front", "voice", 20)
    plan(stage, "blue", LOUD_VOICE)

    stage.done(*(one.id for one in row(stage, "front", "voice").requests), change=30)

    (answered,) = stage.show.decisions.values()
    states = {one.id: answered.state_of(one) for one in answered.requests}
    assert states.pop(own) is RequestState.DONE
    assert list(states.values()) == [RequestState.DONE_IN_PART]


@given(
    own=st.integers(-120, 120).filter(bool),
    song=st.integers(-300, 300).filter(bool),
    done=st.integers(-300, 300),
)
def test_what_was_done_is_shared_out_whole(own: int, song: int, done: int) -> None:
    stage = small_stage()
    stage.do(so.PutSetList(SONGS))
    stage.ask("front", "voice", own)
    stage.do(so.PlanSongMoves("blue", (so.SongChange("front", "voice", song),)))

    stage.done(*(one.id for one in row(stage, "front", "voice").requests), change=done)

    (answered,) = stage.show.decisions.values()
    assert answered.done_for_musicians is not None
    assert answered.done_for_song is not None
    assert answered.done_for_musicians + answered.done_for_song == done
    assert min(0, song) <= answered.done_for_song <= max(0, song)
    assert done != own + song or answered.done_for_song == song


def test_target_stays_where_it_is_when_the_send_moves(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)

    stage.correct("front", "voice", -175)

    assert waiting(stage) == {VOICE: 15}


def test_answer_taken_back_returns_the_move_to_waiting(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    decision = stage.done(*(one.id for one in row(stage, "front", "voice").requests), change=40)

    stage.undo(decision)

    assert (waiting(stage), level(stage)) == ({VOICE: 40}, -200)


def test_answer_taken_back_after_the_moves_were_dropped_returns_nothing(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    decision = stage.done(*(one.id for one in row(stage, "front", "voice").requests), change=40)
    stage.do(so.DropSongMoves(stage.show.waiting_song_plan or ""))

    stage.undo(decision)

    assert (waiting(stage), level(stage)) == ({}, -200)


def test_going_on_without_leaves_musicians_requests(stage: Stage) -> None:
    stage.ask("front", "voice", 10)
    plan(stage, "blue", LOUD_VOICE)

    stage.do(so.DropSongMoves(stage.show.waiting_song_plan or ""))

    assert waiting(stage) == {VOICE: 10}
    with pytest.raises(UnknownSongPlan):
        stage.do(so.DropSongMoves("s1"))


def test_moves_are_planned_anew_after_going_on_without(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    stage.do(so.DropSongMoves(stage.show.waiting_song_plan or ""))

    plan(stage, "blue", LOUD_VOICE)

    assert waiting(stage) == {VOICE: 40}


def test_what_the_last_song_left_is_taken_back(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    work_all(stage)
    stage.do(so.BeginSong())
    stage.do(so.BeginGap())

    plan(stage, "road")

    assert waiting(stage) == {VOICE: -40}


def test_what_two_songs_left_is_taken_back_to_before_both(stage: Stage) -> None:
    for song, change in (("blue", 40), ("road", 50)):
        plan(stage, song, (so.SongChange("front", "voice", change),))
        work_all(stage)

    plan(stage, "train")

    assert waiting(stage) == {VOICE: -50}


def test_what_was_taken_back_is_not_taken_back_again(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    work_all(stage)
    plan(stage, "road")
    work_all(stage)

    plan(stage, "train")

    assert (level(stage), waiting(stage)) == (-200, {})


def test_what_a_musician_got_beside_the_song_stays(stage: Stage) -> None:
    stage.ask("front", "voice", 10)
    plan(stage, "blue", LOUD_VOICE)
    work_all(stage)

    plan(stage, "road")
    work_all(stage)

    assert level(stage) == -190


def test_what_somebody_moved_since_is_left_alone(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    work_all(stage)
    stage.done(stage.ask("front", "voice", -10))

    plan(stage, "road")

    assert waiting(stage) == {}


def test_answer_that_was_taken_back_left_nothing(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    work_all(stage)
    stage.undo(next(iter(stage.show.decisions)))

    plan(stage, "road")

    assert waiting(stage) == {}


def test_moves_of_another_song_leave_the_queue_when_the_next_is_chosen(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)

    stage.do(so.ChooseSong("road"))

    assert waiting(stage) == {}


def test_moves_stay_when_their_song_begins_and_go_when_it_ends(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    stage.do(so.BeginSong())
    running = waiting(stage)

    stage.do(so.BeginGap())

    assert (running, waiting(stage)) == ({VOICE: 40}, {})


def test_moves_are_planned_for_the_song_in_play_only(stage: Stage) -> None:
    with pytest.raises(NotThisSong):
        stage.do(so.PlanSongMoves("road", LOUD_VOICE))


def test_what_cannot_be_planned_is_kept_with_the_plan_though_nothing_moves(stage: Stage) -> None:
    gone = NotPlanned(WhyNot.MIX_NOT_HERE, "Side")

    stage.do(so.PlanSongMoves("blue", (), (gone,)))

    assert stage.show.song_plan is not None
    assert stage.show.song_plan.not_planned == (gone,)
    assert stage.rows == ()


def test_song_begins_from_where_somebody_corrected_what_the_song_before_left(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    work_all(stage)
    stage.correct("front", "voice", -100)

    plan(stage, "road", (so.SongChange("front", "voice", 20),))

    assert waiting(stage) == {VOICE: 20}


def test_song_begins_from_what_somebody_got_on_top_of_such_a_correction(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    work_all(stage)
    stage.correct("front", "voice", -100)
    stage.done(stage.ask("front", "voice", -10))

    plan(stage, "road", (so.SongChange("front", "voice", 20),))

    assert waiting(stage) == {VOICE: 20}
