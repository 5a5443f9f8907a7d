"""What is left when Redis goes away, or hangs, in the middle of a show: everything, and every page hears of it."""

import signal
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
import requests

from tests.support.festival import Festival, ask, festival_at, new_client_id
from tests.support.serving import PATIENCE_S
from tests.support.threads import wait_until
from tests.support.workers import Listener, Worker, free_port, redis_server, token_in

pytestmark = [pytest.mark.postgres, pytest.mark.faults]


def killed(redis: subprocess.Popen[bytes]) -> None:
    redis.kill()
    redis.wait()


def frozen(redis: subprocess.Popen[bytes]) -> None:
    redis.send_signal(signal.SIGSTOP)


@contextmanager
def festival_with(port: int, place: Path) -> Iterator[tuple[Festival, Listener, Listener]]:
    """Two workers that a Redis of their own joins, and a desk's page at each."""
    with festival_at(place, f"redis://127.0.0.1:{port}/0") as two:
        desk = token_in(two.one.links["desk"])
        with (
            Listener(two.one.url, "/desk", desk) as near,
            Listener(two.other.url, "/desk", desk) as far,
        ):
            yield two, near, far


def told_of(revision: int, page: Listener) -> None:
    """Wait until a page was pushed a revision."""
    while page.next_push()["revision"] < revision:
        pass


def news_of_laptop(page: Listener, is_wanted: Callable[[str], bool]) -> str:
    """Return the first lines about what is wrong that are as wanted."""
    while True:
        lines = page.next_push()["fragments"].get("health")
        if lines is not None and is_wanted(lines):
            return str(lines)


def health_of(worker: Worker) -> object:
    return requests.get(f"{worker.url}/healthz", timeout=PATIENCE_S).json()


@pytest.mark.parametrize("go_away", [killed, frozen])
def test_every_page_hears_while_redis_is_away_and_desks_are_told_until_it_is_back(
    tmp_path: Path, go_away: Callable[[subprocess.Popen[bytes]], None]
) -> None:
    port = free_port()
    with redis_server(port) as redis, festival_with(port, tmp_path) as (two, near, far):
        phone = token_in(two.one.links["Bass"])
        go_away(redis)
        for _ in range(5):
            last = ask(two.one.url, phone, new_client_id())
            told_of(last.json()["revision"], near)
            told_of(last.json()["revision"], far)
        lines = [news_of_laptop(page, lambda told: "Redis" in told) for page in (near, far)]
        told = health_of(two.one)

        if redis.poll() is None:
            redis.send_signal(signal.SIGCONT)
            over = [news_of_laptop(page, lambda told: "Redis" not in told) for page in (near, far)]
        else:
            with redis_server(port):
                over = [news_of_laptop(page, lambda told: "Redis" not in told) for page in (near, far)]

    assert all("Redis does not answer" in one for one in lines)
    assert told == {"status": "trouble", "troubles": ["redis"]}
    assert ["Redis" in one for one in over] == [False, False]


def test_urgent_call_that_came_while_redis_was_away_is_seen_at_the_other_worker(tmp_path: Path) -> None:
    port = free_port()
    with redis_server(port) as redis, festival_with(port, tmp_path) as (two, _, far):
        killed(redis)
        phone = token_in(two.one.links["Bass"])
        body = {
            "client_id": new_client_id(),
            "musician": None,
            "kind": "call",
            "source": None,
            "call": "hurts",
        }

        called = requests.post(
            f"{two.one.url}/api/v1/mixes/bass/requests",
            json=body,
            headers={"Authorization": f"Bearer {phone}"},
            timeout=PATIENCE_S,
        )
        push = far.next_push()
        while push["revision"] < called.json()["revision"]:
            push = far.next_push()

    assert called.status_code == 201
    assert "hurts" in "".join(push["fragments"].values()).lower()


def test_log_says_once_each_time_that_redis_is_away_and_is_back(tmp_path: Path) -> None:
    port = free_port()
    with redis_server(port) as redis, festival_with(port, tmp_path) as (_, near, _):
        redis.send_signal(signal.SIGSTOP)
        news_of_laptop(near, lambda told: "Redis" in told)
        redis.send_signal(signal.SIGCONT)
        news_of_laptop(near, lambda told: "Redis" not in told)
        redis.send_signal(signal.SIGSTOP)
        news_of_laptop(near, lambda told: "Redis" in told)
        redis.send_signal(signal.SIGCONT)
        news_of_laptop(near, lambda told: "Redis" not in told)
        wait_until(lambda: len(told_of_redis(tmp_path)) >= 4)

    assert told_of_redis(tmp_path) == [": redis", " is over: redis"] * 2


def told_of_redis(folder: Path) -> list[str]:
    lines = (folder / "one.log").read_text().splitlines()
    return [line.partition("trouble")[2] for line in lines if "redis" in line]
