"""What two workers on one database owe to phones and desks, whichever of them these reach."""

import pytest
import requests

from tests.support.festival import (
    Festival,
    admit,
    admit_desk,
    ask,
    call,
    new_client_id,
    replace_code,
)
from tests.support.serving import PATIENCE_S
from tests.support.workers import Listener, token_in

pytestmark = pytest.mark.postgres


def test_workers_print_the_same_codes(festival: Festival) -> None:
    ours, theirs = dict(festival.one.links), dict(festival.other.links)
    desks = ours.pop("desk"), theirs.pop("desk")

    assert ours == theirs
    assert token_in(desks[0]) == token_in(desks[1])
    assert ours["Bass"].startswith(f"{festival.url}/j/{festival.show}-bass.")


def test_request_through_one_worker_is_pushed_to_a_desk_at_the_other(festival: Festival) -> None:
    desk, phone = token_in(festival.one.links["desk"]), token_in(festival.one.links["Bass"])
    client_id = new_client_id()
    with Listener(festival.other.url, "/desk", desk) as page:
        asked = ask(festival.one.url, phone, client_id)

        push = page.next_push()

    assert asked.status_code == 201
    assert (push["after"], push["revision"]) == (page.revision, asked.json()["revision"])
    assert push["client_ids"] == [client_id]
    assert "Snare" in "".join(push["fragments"].values())


def test_decision_at_one_worker_is_pushed_to_a_phone_at_the_other(festival: Festival) -> None:
    desk, phone = token_in(festival.one.links["desk"]), token_in(festival.one.links["Bass"])
    request = ask(festival.one.url, phone, new_client_id()).json()["request"]
    decision = {"requests": [request], "outcome": "done", "done_db": 1}
    with Listener(festival.one.url, "/phone", phone) as page:
        decided = call(f"{festival.other.url}/api/v1/decisions", desk, decision)

        push = page.next_push()
        if push["revision"] == page.revision:  # what was asked may be pushed after the page joined
            push = page.next_push()

    stands = call(f"{festival.one.url}/api/v1/requests/{request}", phone, method="GET")
    assert decided.status_code == 200
    assert push["revision"] == decided.json()["revision"]
    assert (stands.json()["state"], stands.json()["done_db"]) == ("done", 1.0)


def test_request_sent_again_through_the_other_worker_counts_once(festival: Festival) -> None:
    phone, client_id = token_in(festival.one.links["Bass"]), new_client_id()
    first = ask(festival.one.url, phone, client_id)

    again = ask(festival.other.url, phone, client_id)

    assert (first.status_code, again.status_code) == (201, 200)
    assert again.json() == first.json()


def test_both_workers_answer_one_request_only_once(festival: Festival) -> None:
    desk, phone = token_in(festival.one.links["desk"]), token_in(festival.one.links["Bass"])
    request = ask(festival.one.url, phone, new_client_id()).json()["request"]
    decision = {"requests": [request], "outcome": "done", "done_db": 1}

    answers = [
        call(f"{one.url}/api/v1/decisions", desk, decision).status_code
        for one in (festival.one, festival.other)
    ]

    assert answers == [200, 409]


def test_phone_admitted_by_one_worker_is_at_home_at_the_other(festival: Festival) -> None:
    browser = admit(festival.one.url, festival.one.links["Bass"])

    page = browser.get(f"{festival.other.url}/mix/bass", timeout=PATIENCE_S, allow_redirects=False)

    assert page.status_code == 200
    assert 'data-places="/mix/bass/places?show=' in page.text


@pytest.mark.security
def test_code_replaced_at_one_worker_opens_nothing_at_the_other(festival: Festival) -> None:
    stale = token_in(festival.one.links["Horns"])
    with admit_desk(festival.one) as desk:
        replace_code(desk, festival.one.url, "horns")

        answer = call(f"{festival.other.url}/api/v1/mixes", stale, method="GET")

    assert (answer.status_code, answer.json()["error"]) == (410, "code_replaced_since")


def test_each_worker_tells_its_health(festival: Festival) -> None:
    answers = [
        requests.get(f"{one.url}/healthz", timeout=PATIENCE_S).json()
        for one in (festival.one, festival.other)
    ]

    assert answers == [{"status": "ok"}, {"status": "ok"}]
