"""Random phones and two desks while the server is killed, stopped, cut off and left without room: nothing lost, nothing doubled."""

from pathlib import Path

import pytest

from tests.faults.history import judge
from tests.faults.history.record import Call, End, History
from tests.faults.history.rounds import DISK_MEGABYTES, stage
from tests.support.disks import small_disk
from tests.support.links import own_link

pytestmark = pytest.mark.faults

ROUNDS = 10  # two of each evil, the cut twice as often; five hundred: python -m tests.bench.history
SEED = 20261126


def test_history_of_random_clients_under_faults_keeps_every_invariant(tmp_path: Path) -> None:
    with (
        small_disk(tmp_path / "disk", DISK_MEGABYTES) as disk,
        own_link() as link,
        stage(disk, link, SEED) as played,
    ):
        for number in range(ROUNDS):
            played.round(number)

        tally = played.tally
        assert tally.acknowledged > 5 * ROUNDS
        assert tally.pushes > ROUNDS
        assert set(tally.evils) == {"kill", "stop", "fill", "cut"}


def asked(client_id: str, request: str, *again: str) -> Call:
    answers = [{"request": one} for one in again]
    return Call(
        "bass", "/mixes/bass/requests", {"client_id": client_id}, End.OK, {"request": request}, answers
    )


def history_of(*calls: Call) -> History:
    history = History()
    for call in calls:
        history.begin(call)
    return history


def test_judge_finds_a_lost_request() -> None:
    call = asked("a", "r1")

    assert judge.lost(history_of(call), {"bass": ["r2"]}) == [call]


@pytest.mark.parametrize(
    ("calls", "known"),
    [
        ([asked("a", "r1"), asked("b", "r1")], ["r1"]),
        ([asked("a", "r1", "r2")], ["r1"]),
        ([asked("a", "r1")], ["r1", "r1"]),
        ([asked("a", "r1")], ["r1", "r2"]),
    ],
)
def test_judge_finds_a_doubled_request(calls: list[Call], known: list[str]) -> None:
    assert judge.doubled(history_of(*calls), {"bass": known}) != []


def test_judge_finds_a_request_that_two_desks_answered() -> None:
    calls = [Call("", "/decisions", {"requests": ["r1"]}, End.OK, {"decision": one}) for one in ("d2", "d3")]

    assert judge.answered_twice(history_of(*calls), []) == ["r1"]
    assert judge.decisions_lost(history_of(*calls), [{"decision": "d2"}]) == ["d3"]
