"""What a change means for those who are told."""

import pytest

from monreq.domain import commands as c
from monreq.domain.requests import Call
from monreq.live.changes import client_ids, merged
from monreq.services.ports import Change
from tests.support.stage import Stage, small_stage


def change_since(stage: Stage, revision: int) -> Change:
    return Change(stage.at(revision), stage.show, tuple(stage.log[revision:]))


def ask(stage: Stage, mix: str, musician: str, change: int, client_id: str) -> None:
    stage.do(c.AskForLevel(mix, musician, "voice", change, client_id=client_id))


@pytest.fixture
def stage() -> Stage:
    return small_stage()


def test_merged_changes_of_one_show_reach_from_the_first_to_the_last(stage: Stage) -> None:
    start = stage.show.revision
    stage.ask("front", "voice", 30)
    first = change_since(stage, start)
    stage.ask("front", "drums", 30)
    second = change_since(stage, start + 1)

    (one,) = merged([first, second])

    assert (one.before, one.after) == (first.before, second.after)
    assert one.recorded == tuple(stage.log[start:])


def test_merged_changes_of_two_shows_stay_two(stage: Stage) -> None:
    other = Stage(show_id="show2")
    own, others = change_since(stage, 1), change_since(other, 0)

    both = merged([own, others])

    assert both == [own, others]


def test_client_ids_of_what_was_asked_stand_under_their_mix(stage: Stage) -> None:
    start = stage.show.revision
    ask(stage, "front", "singer", 30, "a")
    ask(stage, "ears", "bass", 30, "b")
    stage.call("front", Call.TALK)

    found = client_ids(change_since(stage, start))

    assert found == {"front": ["a"], "ears": ["b"]}


def test_client_ids_of_what_was_answered_are_those_of_its_requests(stage: Stage) -> None:
    ask(stage, "front", "singer", 30, "a")
    ask(stage, "front", "singer", 20, "b")
    start = stage.show.revision
    decision = stage.done(*stage.show.open_requests)
    answered = client_ids(change_since(stage, start))
    start = stage.show.revision
    stage.undo(decision)
    undone = client_ids(change_since(stage, start))

    assert answered == {"front": ["a", "b"]}
    assert undone == {"front": ["a", "b"]}


def test_client_ids_of_what_cancelled_out_include_the_one_asked_before(stage: Stage) -> None:
    ask(stage, "front", "singer", 30, "a")
    start = stage.show.revision
    ask(stage, "front", "singer", -30, "b")

    found = client_ids(change_since(stage, start))

    assert sorted(found["front"]) == ["a", "b"]


def test_client_ids_of_what_was_withdrawn_are_known_from_before(stage: Stage) -> None:
    ask(stage, "front", "singer", 30, "a")
    (request,) = stage.show.open_requests
    start = stage.show.revision
    stage.withdraw(request)

    found = client_ids(change_since(stage, start))

    assert found == {"front": ["a"]}


def test_client_ids_of_what_was_asked_and_withdrawn_in_one_change_come_once(stage: Stage) -> None:
    start = stage.show.revision
    ask(stage, "front", "singer", 30, "a")
    (request,) = stage.show.open_requests
    stage.withdraw(request)

    found = client_ids(change_since(stage, start))

    assert found == {"front": ["a"]}


def test_client_ids_of_a_new_mark_are_none(stage: Stage) -> None:
    start = stage.show.revision
    stage.mark()

    found = client_ids(change_since(stage, start))

    assert found == {}
