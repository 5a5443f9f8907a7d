"""How far songs go: by their difference from the mark, and never to put back what somebody wanted less of."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import song_commands as so
from monreq.domain.requests import Call
from tests.support.queue_rows import VOICE
from tests.support.songs import LOUD_VOICE, SONGS, level, plan, waiting, work_all
from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage(stage: Stage) -> Stage:
    stage.do(so.PutSetList(SONGS))
    return stage


def test_song_that_comes_again_asks_nothing_more_whatever_was_asked_between(stage: Stage) -> None:
    for _ in range(5):
        plan(stage, "blue", LOUD_VOICE)
        work_all(stage)
        stage.done(stage.ask("front", "voice", 10), change=10)
        plan(stage, "road")
        work_all(stage)

    assert level(stage) == -200 + 40 + 5 * 10


def test_song_after_another_asks_from_where_it_would_stand_without_both(stage: Stage) -> None:
    plan(stage, "blue", LOUD_VOICE)
    work_all(stage)

    plan(stage, "road", (so.SongChange("front", "voice", 10),))

    assert waiting(stage) == {VOICE: -30}


def test_song_leads_no_further_than_from_the_mark(stage: Stage) -> None:
    stage.mark()
    stage.done(stage.ask("front", "voice", 30))

    plan(stage, "blue", LOUD_VOICE)

    assert waiting(stage) == {VOICE: 10}


def test_song_does_not_put_back_what_somebody_wanted_less_of(stage: Stage) -> None:
    stage.mark()
    stage.done(stage.ask("front", "voice", -60))

    plan(stage, "blue", LOUD_VOICE)
    before = waiting(stage)
    stage.correct("front", "voice", level(stage) - 50)

    assert (before, waiting(stage)) == ({VOICE: 40}, {VOICE: 40})


def test_output_turned_down_for_one_whose_ears_hurt_stays_down(stage: Stage) -> None:
    stage.mark()
    plan(stage, "blue", (so.SongChange("ears", None, 20),))
    stage.done(stage.call("ears", Call.HURTS, "bass"), change=-60)

    (still,) = waiting(stage).values()
    plan(stage, "blue", (so.SongChange("ears", None, 20),))

    assert (still, list(waiting(stage).values())) == (20, [20])


def test_preamp_that_was_turned_and_compensated_changes_nothing_of_a_song(stage: Stage) -> None:
    """What it once did: the next time the song came, it asked +10."""
    stage.mark()
    change = stage.plan_preamp("voice", 100)
    for request in stage.compensating(change).values():
        stage.done(request, change=-100)
    stage.turn_preamp(change)

    plan(stage, "blue", LOUD_VOICE)

    assert waiting(stage) == {VOICE: 40}


@given(
    steps=st.lists(st.tuples(st.sampled_from(["blue", "road", "ask"]), st.sampled_from([-60, -30, 10, 30]))),
    changes=st.tuples(st.integers(-80, 80), st.integers(-80, 80)),
)
def test_song_stands_at_its_difference_from_the_mark_and_no_further_from_what_stands_without_songs(
    steps: list[tuple[str, int]], changes: tuple[int, int]
) -> None:
    stage = small_stage()
    stage.do(so.PutSetList(SONGS))
    stage.mark()
    without, by_song = -200, dict(zip(("blue", "road"), changes, strict=True))
    for what, change in steps:
        before = level(stage)
        if what == "ask":
            done = max(-900, min(100, before + change)) - before
            stage.done(stage.ask("front", "voice", change), change=done)
            without += done
            continue
        own = by_song[what]
        plan(stage, what, (so.SongChange("front", "voice", own),) if own else ())
        work_all(stage)
        if own:
            wanted = max(without + min(own, 0), min(without + max(own, 0), -200 + own))
            assert level(stage) == max(-900, min(100, wanted))
        else:
            assert level(stage) in (before, without)
