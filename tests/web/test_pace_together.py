"""One measure for all workers, kept in Redis, and each worker's own while Redis is gone."""

import os
import socket
import uuid

import pytest

from monreq.web.pace import ASKING, BURST, PaceTogether, Rate

pytestmark = pytest.mark.security

REDIS_URL = os.environ.get("MONREQ_TEST_REDIS_URL", "redis://127.0.0.1:6379/15")
HOURLY = Rate(3, 1 / 3600)


def test_two_workers_share_one_measure() -> None:
    sender = uuid.uuid4().hex
    one, other = PaceTogether(REDIS_URL), PaceTogether(REDIS_URL)

    answers = [pace.lets_through(sender, HOURLY, 0.0) for pace in (one, other, one, other, one)]

    assert answers == [True, True, True, False, False]


def test_what_was_used_up_comes_back_by_the_clock_of_redis() -> None:
    sender, pace, quick = uuid.uuid4().hex, PaceTogether(REDIS_URL), Rate(1, 1000)

    assert [pace.lets_through(sender, quick, 0.0)] == [True]
    while not pace.lets_through(sender, quick, 0.0):
        pass


def test_senders_are_counted_apart() -> None:
    pace, crowd = PaceTogether(REDIS_URL), [uuid.uuid4().hex for _ in range(5)]

    assert all(pace.lets_through(sender, HOURLY, 0.0) for sender in crowd)


def test_a_worker_without_redis_counts_for_itself() -> None:
    with socket.socket() as nobody_listens:
        nobody_listens.bind(("127.0.0.1", 0))
        pace = PaceTogether(f"redis://127.0.0.1:{nobody_listens.getsockname()[1]}/0")
        let_through = sum(pace.lets_through("front", ASKING, 0.0) for _ in range(BURST + 10))

    assert let_through == BURST
