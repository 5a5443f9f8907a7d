"""Decisions over JSON that are sent again, or taken back."""

import pytest

from monreq.domain import commands as c
from tests.support.api_client import ApiClient
from tests.support.web_app import Site

Said = dict[str, object]


def ask(
    client: ApiClient, change_db: float, source: str | None = "guitar", mix: str = "front", **more: str
) -> str:
    said = {
        "client_id": f"{source}{change_db}{more}".translate(str.maketrans("", "", "{}' ")),
        "kind": "level",
    }
    reply = client.post(f"/mixes/{mix}/requests", {**said, "source": source, "change_db": change_db, **more})
    assert reply.status == 201
    return str(reply.json["request"])


@pytest.mark.parametrize(
    "said",
    [
        {"outcome": "done", "done_db": 2},
        {"outcome": "not_done", "reason": "near_feedback"},
        {"outcome": "set_aside"},
    ],
)
def test_the_same_decision_again_gets_the_first_answer_and_moves_nothing(
    site: Site, desk: ApiClient, said: Said
) -> None:
    body = {"client_id": "d1", "requests": [ask(desk, 3)], **said}
    first = desk.post("/decisions", body)
    desk.post("/mixes/front/corrections", {"source": "guitar", "level_db": -3})
    before = site.show

    again = desk.post("/decisions", body)

    assert (again.status, again.json) == (200, first.json)
    assert site.show == before


def test_a_decision_sent_again_without_an_id_is_told_that_it_was_answered(desk: ApiClient) -> None:
    body = {"requests": [ask(desk, 3)], "outcome": "done"}
    desk.post("/decisions", body)

    assert desk.post("/decisions", body).error == "already_answered"


def test_another_decision_under_a_used_id_is_refused(site: Site, desk: ApiClient) -> None:
    requests = [ask(desk, 3), ask(desk, 1)]
    desk.post("/decisions", {"client_id": "d1", "requests": requests[:1], "outcome": "done"})
    before = site.show

    reply = desk.post("/decisions", {"client_id": "d1", "requests": requests[1:], "outcome": "done"})

    assert (reply.status, reply.error) == (422, "same_id_other_body")
    assert site.show == before


def test_undo_puts_the_level_back_and_the_requests_into_the_queue(site: Site, desk: ApiClient) -> None:
    requests = [ask(desk, 3), ask(desk, 1)]
    decision = desk.post("/decisions", {"requests": requests, "outcome": "done"}).json["decision"]

    reply = desk.post(f"/decisions/{decision}/undo")

    assert reply.status == 200
    assert reply.json == {
        "decision": decision,
        "revision": site.show.revision,
        "level_db": -20.0,
        "pan": None,
        "requests": requests,
    }
    assert desk.get("/queue").json["rows"][0]["requests"] == requests


def test_undo_names_no_request_that_cancels_out_on_its_return(desk: ApiClient, front: ApiClient) -> None:
    answered = ask(front, 3)
    decision = desk.post("/decisions", {"requests": [answered], "outcome": "done"}).json["decision"]
    ask(front, -3)

    reply = desk.post(f"/decisions/{decision}/undo")

    assert (reply.json["requests"], reply.json["level_db"]) == ([], -20.0)
    assert front.get(f"/requests/{answered}").json["state"] == "cancelled_out"


def test_a_second_undo_is_told_so_and_moves_nothing(site: Site, desk: ApiClient) -> None:
    decision = desk.post("/decisions", {"requests": [ask(desk, 3)], "outcome": "done"}).json["decision"]
    desk.post(f"/decisions/{decision}/undo")
    before = site.show

    reply = desk.post(f"/decisions/{decision}/undo")

    assert (reply.status, reply.error) == (409, "already_undone")
    assert site.show == before


@pytest.mark.parametrize("decision", ["d999", "r1", "%00", "x"])
def test_a_decision_that_was_never_made_is_not_found(desk: ApiClient, decision: str) -> None:
    reply = desk.post(f"/decisions/{decision}/undo")

    assert (reply.status, reply.error) == (404, "unknown_decision")


def test_a_decision_whose_source_is_gone_cannot_be_taken_back(site: Site, desk: ApiClient) -> None:
    decision = desk.post("/decisions", {"requests": [ask(desk, 3)], "outcome": "done"}).json["decision"]
    site.do(c.RemoveSource("guitar"))

    reply = desk.post(f"/decisions/{decision}/undo")

    assert (reply.status, reply.error) == (409, "undo_impossible")
