"""One measure for all workers, kept in Redis, and each worker's own while Redis is gone."""

import socket
import uuid

import pytest

from monreq.web.pace import ASKING, BURST, PaceTogether, Rate
from tests.support.workers import redis_url

pytestmark = pytest.mark.security

HOURLY = Rate(3, 1 / 3600)


@pytest.fixture
def pace() -> PaceTogether:
    return PaceTogether(redis_url())


def test_two_workers_share_one_measure(pace: PaceTogether) -> None:
    sender, other = uuid.uuid4().hex, PaceTogether(redis_url())

    answers = [one.lets_through(sender, HOURLY, 0.0) for one in (pace, other, pace, other, pace)]

    assert answers == [True, True, True, False, False]


def test_what_was_used_up_comes_back_by_the_clock_of_redis(pace: PaceTogether) -> None:
    sender, quick = uuid.uuid4().hex, Rate(1, 1000)

    assert [pace.lets_through(sender, quick, 0.0)] == [True]
    while not pace.lets_through(sender, quick, 0.0):
        pass


def test_senders_are_counted_apart(pace: PaceTogether) -> None:
    crowd = [uuid.uuid4().hex for _ in range(5)]

    assert all(pace.lets_through(sender, HOURLY, 0.0) for sender in crowd)


def test_a_worker_without_redis_counts_for_itself() -> None:
    with socket.socket() as nobody_listens:
        nobody_listens.bind(("127.0.0.1", 0))
        pace = PaceTogether(f"redis://127.0.0.1:{nobody_listens.getsockname()[1]}/0")
        let_through = sum(pace.lets_through("front", ASKING, 0.0) for _ in range(BURST + 10))

    assert let_through == BURST
