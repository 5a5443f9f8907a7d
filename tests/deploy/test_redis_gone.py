"""What is left when Redis goes away in the middle of a show: everything but the pushes between workers."""

from pathlib import Path

import pytest

from tests.support.festival import ask, call, festival_at, new_client_id
from tests.support.workers import Listener, free_port, redis_server, token_in

pytestmark = [pytest.mark.postgres, pytest.mark.faults]


def test_show_goes_on_without_redis_and_pages_hear_again_once_it_is_back(tmp_path: Path) -> None:
    port = free_port()
    with redis_server(port) as first, festival_at(tmp_path, f"redis://127.0.0.1:{port}/0") as two:
        desk, phone = token_in(two.one.links["desk"]), token_in(two.one.links["Bass"])
        with (
            Listener(two.one.url, "/desk", desk) as near,
            Listener(two.other.url, "/desk", desk) as far,
        ):
            first.terminate()
            first.wait()

            unheard = ask(two.one.url, phone, new_client_id())
            read_there = call(f"{two.other.url}/api/v1/queue", desk, method="GET")
            pushed_here = near.next_push()
            with redis_server(port):
                heard_again = push_after_return(two.one.url, phone, far)

        assert unheard.status_code == 201
        assert read_there.json()["revision"] == unheard.json()["revision"] == pushed_here["revision"]
        # Its page is behind what it has now missed, and so reads everything again.
        assert heard_again["after"] >= unheard.json()["revision"] > far.revision


def push_after_return(url: str, phone: str, far: Listener) -> dict[str, object]:
    """Ask until a worker has found its Redis again."""
    for _ in range(60):
        ask(url, phone, new_client_id())
        push = far.push_within(0.5)
        if push is not None:
            return push
    raise AssertionError("no push came through again")
