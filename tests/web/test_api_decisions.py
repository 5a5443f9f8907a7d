"""Answering over JSON: exactly the requests named, of one row, once."""

import pytest

from tests.support.api_client import ApiClient
from tests.support.web_app import Site, told_by_api

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


def level(client: ApiClient, source: str = "guitar") -> float:
    sends = client.get("/mixes/front").json["sends"]
    return next(float(send["level_db"]) for send in sends if send["source"] == source)


def test_done_without_a_figure_is_the_suggested_move(site: Site, desk: ApiClient) -> None:
    requests = [ask(desk, 3), ask(desk, 4.5)]

    reply = desk.post("/decisions", {"requests": requests, "outcome": "done"})

    revision = site.show.revision
    assert reply.status == 200
    decision = told_by_api(site.show_id, f"d{revision}")
    assert reply.json == {"decision": decision, "revision": revision, "level_db": -14.0, "pan": None}
    assert level(desk) == -14.0
    assert desk.get("/queue").json["rows"] == []


@pytest.mark.parametrize(
    ("figure", "now"),
    [
        ({"done_db": 4}, -16.0),
        ({"done_db": -1.5}, -21.5),
        ({"done_db": 0}, -20.0),
        ({"done_db": None}, -14.0),
        ({"level_db": -12.5}, -12.5),
    ],
)
def test_done_records_what_the_hand_did(desk: ApiClient, figure: Said, now: float) -> None:
    request = ask(desk, 6)

    reply = desk.post("/decisions", {"requests": [request], "outcome": "done", **figure})

    assert (reply.status, reply.json["level_db"]) == (200, now)
    assert level(desk) == now


@pytest.mark.parametrize("outcome", ["not_done", "set_aside"])
def test_an_answer_that_moves_nothing_gives_the_level_as_it_stands(desk: ApiClient, outcome: str) -> None:
    request = ask(desk, 6)

    reply = desk.post(
        "/decisions", {"requests": [request], "outcome": outcome, "reason": "checking_polarity"}
    )

    assert (reply.status, reply.json["level_db"]) == (200, -20.0)
    assert level(desk) == -20.0


def test_a_request_that_arrived_unseen_stays_waiting(desk: ApiClient) -> None:
    seen, unseen = ask(desk, 3), ask(desk, 1)

    desk.post("/decisions", {"requests": [seen], "outcome": "done", "done_db": 3})

    (row,) = desk.get("/queue").json["rows"]
    assert (row["requests"], row["sum_db"], row["level_db"]) == ([unseen], 1.0, -17.0)


def test_the_second_of_two_desks_is_told_and_nothing_is_done_twice(site: Site, desk: ApiClient) -> None:
    first, second = ask(desk, 3), ask(desk, 1)
    desk.post("/decisions", {"requests": [first], "outcome": "done"})
    before = site.show

    reply = desk.post("/decisions", {"requests": [second, first], "outcome": "done"})

    assert (reply.status, reply.error) == (409, "already_answered")
    assert reply.json["requests"] == [first]
    assert first in reply.json["message"]
    assert second not in reply.json["message"]
    assert site.show == before


@pytest.mark.parametrize("gone", ["withdrawn", "cancelled_out"])
def test_requests_that_left_the_queue_are_named(desk: ApiClient, front: ApiClient, gone: str) -> None:
    request = ask(front, 3)
    if gone == "withdrawn":
        front.delete(f"/requests/{request}")
    else:
        ask(front, -3)

    reply = desk.post("/decisions", {"requests": [request], "outcome": "done"})

    assert (reply.status, reply.json["requests"]) == (409, [request])


def test_what_is_set_aside_is_not_answered_yet(desk: ApiClient) -> None:
    request = ask(desk, 3)
    desk.post("/decisions", {"requests": [request], "outcome": "set_aside"})

    reply = desk.post("/decisions", {"requests": [request], "outcome": "done"})

    assert (reply.status, reply.json["level_db"]) == (200, -17.0)


def test_requests_of_several_rows_are_refused(site: Site, desk: ApiClient) -> None:
    requests = [ask(desk, 3), ask(desk, 3, "drums")]
    before = site.show

    reply = desk.post("/decisions", {"requests": requests, "outcome": "done"})

    assert (reply.status, reply.error) == (422, "several_rows")
    assert site.show == before


def test_the_same_source_in_two_mixes_is_two_rows(desk: ApiClient) -> None:
    requests = [ask(desk, 3), ask(desk, 3, mix="ears", musician="bass")]

    assert desk.post("/decisions", {"requests": requests, "outcome": "done"}).error == "several_rows"


def test_no_requests_are_refused(desk: ApiClient) -> None:
    reply = desk.post("/decisions", {"requests": [], "outcome": "done"})

    assert (reply.status, reply.error) == (422, "no_requests")


def test_one_unknown_among_the_requests_is_not_found_and_nothing_is_done(site: Site, desk: ApiClient) -> None:
    request = ask(desk, 3)
    before = site.show

    reply = desk.post("/decisions", {"requests": [request, "r999"], "outcome": "done"})

    assert (reply.status, reply.error) == (404, "unknown_request")
    assert site.show == before


@pytest.mark.parametrize(
    ("said", "error"),
    [
        ({"outcome": "not_done"}, "reason_required"),
        ({"outcome": "not_done", "reason": None}, "reason_required"),
        ({"outcome": "not_done", "reason": "\u200e "}, "reason_required"),
        ({"outcome": "not_done", "reason": "x" * 201}, "text_too_long"),
        ({"outcome": "not_done", "reason": "no", "done_db": 0}, "bad_body"),
        ({"outcome": "set_aside", "level_db": -3}, "bad_body"),
        ({"outcome": "done", "done_db": 3, "level_db": -3}, "bad_body"),
        ({"outcome": "done", "done_db": 30.1}, "outside_range"),
        ({"outcome": "done", "level_db": -90.1}, "outside_range"),
        ({"outcome": "done", "done_db": 1001}, "bad_body"),
        ({"outcome": "done", "done_db": 0.05}, "finer_than_tenths"),
        ({"outcome": "done", "done_pan": 0.2}, "no_figure_here"),
        ({"outcome": "done", "done_db": "3"}, "bad_body"),
        ({"outcome": "done", "done_db": True}, "bad_body"),
        ({"outcome": "later"}, "bad_body"),
        ({}, "bad_body"),
    ],
)
def test_an_answer_that_makes_no_sense_is_refused_and_nothing_is_done(
    site: Site, desk: ApiClient, said: Said, error: str
) -> None:
    request = ask(desk, 3)
    before = site.show

    reply = desk.post("/decisions", {"requests": [request], **said})

    assert (reply.status, reply.error) == (422, error)
    assert site.show == before


@pytest.mark.parametrize(
    ("asked", "figure"),
    [
        ({"kind": "pan", "source": "guitar", "change_pan": 0.2}, {"done_db": 1}),
        ({"kind": "pan", "source": "guitar", "change_pan": 0.2}, {"level_db": -3}),
        ({"kind": "out", "source": "guitar"}, {"done_db": 1}),
        ({"kind": "sound", "source": "guitar", "words": "thin"}, {"done_db": 1}),
        ({"kind": "sound", "source": "guitar", "words": "thin"}, {"level_db": -3}),
        ({"kind": "call", "call": "hurts"}, {"done_pan": 0.1}),
    ],
)
def test_a_figure_of_another_kind_is_refused(site: Site, desk: ApiClient, asked: Said, figure: Said) -> None:
    request = desk.post("/mixes/ears/requests", {"client_id": "a1", "musician": "bass", **asked}).json[
        "request"
    ]
    before = site.show

    reply = desk.post("/decisions", {"requests": [request], "outcome": "done", **figure})

    assert (reply.status, reply.error) == (422, "no_figure_here")
    assert site.show == before


def test_a_pan_is_answered_with_a_pan(desk: ApiClient) -> None:
    said = {"client_id": "a1", "musician": "bass", "kind": "pan", "source": "guitar", "change_pan": 0.4}
    request = desk.post("/mixes/ears/requests", said).json["request"]

    reply = desk.post("/decisions", {"requests": [request], "outcome": "done", "done_pan": 0.3})

    assert (reply.json["pan"], reply.json["level_db"]) == (0.3, -25.0)


def test_a_source_that_was_taken_out_has_no_level_any_more(desk: ApiClient) -> None:
    request = desk.post("/mixes/front/requests", {"client_id": "a1", "kind": "out", "source": "guitar"}).json
    again = {"client_id": "a2", "kind": "in", "source": "guitar"}

    out = desk.post("/decisions", {"requests": [request["request"]], "outcome": "done"})
    request = desk.post("/mixes/front/requests", again).json
    back = desk.post("/decisions", {"requests": [request["request"]], "outcome": "done"})

    assert (out.json["level_db"], back.json["level_db"]) == (None, -20.0)


def test_a_call_is_answered_at_the_output(desk: ApiClient, front: ApiClient) -> None:
    said = {"client_id": "a1", "kind": "call", "call": "hurts"}
    request = front.post("/mixes/front/requests", said).json["request"]

    reply = desk.post("/decisions", {"requests": [request], "outcome": "done"})

    assert reply.json["level_db"] == -6.0
    assert desk.get("/mixes/front").json["output_db"] == -6.0
    assert front.get(f"/requests/{request}").json["done_db"] == -6.0
