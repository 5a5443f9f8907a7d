"""How long a move and a change of mix take, learned from what was decided when."""

from monreq.domain.paces import START_MOVE_S, START_SETUP_S, Paces, learn
from monreq.domain.requests import Call
from tests.support.group_stage import group_stage
from tests.support.stage import Stage


def learned(stage: Stage) -> Paces:
    return learn(stage.show.decisions.values())


def work(stage: Stage, *steps: tuple[str, float]) -> None:
    """Answer one request after another, each in a mix and so many seconds after the one before."""
    waiting = [(stage.ask(mix, "voice", 10, in_mix(mix)), after_s) for mix, after_s in steps]
    for request, after_s in waiting:
        stage.wait(after_s)
        stage.done(request)


def in_mix(mix: str) -> str:
    return {"front": "singer", "ears": "bass"}[mix]


def test_start_values_hold_before_the_first_decision(stage: Stage) -> None:
    assert learned(stage) == Paces(START_MOVE_S, START_SETUP_S, None, 0)


def test_pace_of_moves_in_one_mix_is_learned(stage: Stage) -> None:
    work(stage, *[("front", 2.5)] * 12)

    assert learned(stage).move_s == 2.5
    assert learned(stage).learned_from == 11


def test_going_to_another_mix_is_learned_as_what_comes_on_top(stage: Stage) -> None:
    work(stage, *[("front", 12), ("front", 3), ("ears", 12), ("ears", 3)] * 8)

    assert learned(stage).move_s == 3
    assert learned(stage).setup_s == 9


def test_going_to_another_mix_never_takes_less_than_nothing(stage: Stage) -> None:
    work(stage, *[("front", 20), ("front", 20), ("ears", 2), ("ears", 20), ("ears", 20), ("front", 2)] * 4)

    assert learned(stage).setup_s == 0


def test_few_decisions_do_not_outweigh_the_start_values(stage: Stage) -> None:
    work(stage, *[("front", 30)] * 4)

    assert learned(stage).move_s == START_MOVE_S


def test_odd_times_among_many_do_not_count(stage: Stage) -> None:
    work(stage, *[("front", 3)] * 20, *[("front", 50)] * 6)

    assert learned(stage).move_s == 3


def test_pause_tells_nothing(stage: Stage) -> None:
    work(stage, ("front", 3), ("front", 240))

    assert learned(stage).learned_from == 0


def test_several_answers_at_once_tell_nothing(stage: Stage) -> None:
    work(stage, *[("front", 0)] * 12)

    assert learned(stage).learned_from == 0


def test_time_before_the_request_was_asked_does_not_count(stage: Stage) -> None:
    for _ in range(12):
        request = stage.ask("front", "voice", 10)
        stage.wait(2)
        stage.done(request)
        stage.wait(30)

    assert learned(stage).move_s == 2


def test_what_was_not_done_tells_nothing(stage: Stage) -> None:
    requests = [stage.ask("front", "voice", 10) for _ in range(3)]
    stage.done(requests[0])
    stage.wait(5)
    stage.not_done(requests[1])
    stage.wait(5)
    stage.set_aside(requests[2])

    assert learned(stage).learned_from == 0


def test_what_was_undone_tells_nothing(stage: Stage) -> None:
    requests = [stage.ask("front", "voice", 10) for _ in range(2)]
    stage.done(requests[0])
    stage.wait(5)
    decision = stage.done(requests[1])
    assert learned(stage).learned_from == 1

    stage.undo(decision)

    assert learned(stage).learned_from == 0


def test_answer_to_an_urgent_call_tells_nothing(stage: Stage) -> None:
    stage.done(stage.ask("front", "voice", 10))
    call = stage.call("front", Call.HURTS)
    stage.wait(2)
    stage.done(call)

    assert learned(stage).learned_from == 0


def test_what_was_long_ago_is_forgotten(stage: Stage) -> None:
    work(stage, *[("front", 20)] * 40)
    assert learned(stage).move_s == 20

    work(stage, *[("front", 3)] * 40)

    assert learned(stage).move_s == 3


def test_desk_is_on_the_mix_of_the_last_decision(stage: Stage) -> None:
    work(stage, ("front", 3), ("ears", 9))

    assert learned(stage).at_mix == "ears"


def test_answer_for_a_group_tells_nothing_of_how_long_one_move_takes() -> None:
    stage = group_stage()
    stage.done(stage.ask("front", "voice", 10))
    group = stage.ask("front", "kit", 10)
    stage.wait(20)
    stage.done(group)

    assert learned(stage).learned_from == 0
