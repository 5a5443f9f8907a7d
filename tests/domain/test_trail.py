"""A request followed through the events about it."""

from monreq.domain.requests import Call, Kind, RequestState, RowKey
from monreq.domain.trail import Trail, trail
from tests.support.queue_rows import about
from tests.support.stage import START_MS, Stage, small_stage


def follow(stage: Stage, request: str) -> Trail:
    found = trail(stage.show, request, about(stage, request))
    assert found is not None
    return found


def test_a_request_waits_from_its_asking() -> None:
    stage = small_stage()
    stage.wait(5)
    request = stage.ask("ears", "guitar", 30, "bass")

    assert follow(stage, request) == Trail(
        request=request,
        key=RowKey("ears", "guitar", Kind.LEVEL),
        musician="bass",
        amount=30,
        words="",
        call=None,
        asked_at_ms=START_MS + 5000,
        state=RequestState.WAITING,
        done=None,
        reason="",
        decision=None,
    )


def test_words_and_calls_are_kept() -> None:
    stage = small_stage()

    sound, call = stage.ask_sound("front", "voice", "boomy"), stage.call("front", Call.TALK)

    assert follow(stage, sound).words == "boomy"
    assert follow(stage, call).call is Call.TALK


def test_done_says_how_far_its_row_was_moved() -> None:
    stage = small_stage()
    request, other = stage.ask("front", "guitar", 30), stage.ask("front", "guitar", 30)
    decision = stage.done(request, other, change=40, why="near_feedback")

    known = follow(stage, request)

    assert (known.state, known.done) == (RequestState.DONE_IN_PART, 40)
    assert (known.reason, known.decision) == ("near_feedback", decision)


def test_not_done_moves_nothing_and_says_why() -> None:
    stage = small_stage()
    request = stage.ask("front", "guitar", 30)
    stage.not_done(request, why="amp_down")

    known = follow(stage, request)

    assert (known.state, known.done, known.reason) == (RequestState.NOT_DONE, None, "amp_down")


def test_set_aside_can_still_be_done() -> None:
    stage = small_stage()
    request = stage.ask("front", "guitar", 30)
    stage.set_aside(request)
    aside = follow(stage, request).state
    stage.done(request)

    assert (aside, follow(stage, request).state) == (RequestState.SET_ASIDE, RequestState.DONE)


def test_after_an_undo_it_waits_again_as_if_never_answered() -> None:
    stage = small_stage()
    request = stage.ask("front", "guitar", 30)
    waiting = follow(stage, request)
    stage.undo(stage.done(request, why="near_feedback"))

    assert follow(stage, request) == waiting


def test_the_answer_after_an_undo_is_the_one_that_counts() -> None:
    stage = small_stage()
    request = stage.ask("front", "guitar", 30)
    stage.undo(stage.done(request))
    second = stage.not_done(request)

    known = follow(stage, request)

    assert (known.state, known.decision) == (RequestState.NOT_DONE, second)


def test_withdrawn_stays_withdrawn_and_keeps_no_reason_of_before() -> None:
    stage = small_stage()
    request = stage.ask("front", "guitar", 30)
    stage.set_aside(request, why="after_this_song")
    stage.withdraw(request)

    known = follow(stage, request)

    assert (known.state, known.reason, known.decision) == (RequestState.WITHDRAWN, "", None)


def test_both_that_come_to_nothing_are_cancelled_out() -> None:
    stage = small_stage()
    first, second = stage.ask("front", "guitar", 30), stage.ask("front", "guitar", -30)

    states = [follow(stage, request).state for request in (first, second)]

    assert states == [RequestState.CANCELLED_OUT] * 2


def test_events_behind_the_state_are_not_followed_yet() -> None:
    stage = small_stage()
    request = stage.ask("front", "guitar", 30)
    earlier = stage.show
    stage.done(request)

    known = trail(earlier, request, about(stage, request))

    assert known is not None
    assert known.state is RequestState.WAITING


def test_a_request_that_was_never_asked_has_no_trail() -> None:
    stage = small_stage()
    stage.ask("front", "guitar", 30)

    assert trail(stage.show, "r999", stage.log) is None
