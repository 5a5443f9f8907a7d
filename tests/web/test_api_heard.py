"""How a change sounds, over JSON: said once, asking again by itself, and told where the request and history stand."""

import pytest

from tests.support.api_client import ApiClient


@pytest.fixture
def done(front: ApiClient, desk: ApiClient) -> tuple[str, str]:
    """Return a request of the singer's that was done, and its decision."""
    said = {"client_id": "a1", "kind": "level", "source": "voice", "change_db": -3}
    request = str(front.post("/mixes/front/requests", said).json["request"])
    answered = desk.post("/decisions", {"requests": [request], "outcome": "done"})
    return request, str(answered.json["decision"])


def say(client: ApiClient, decision: str, heard: str, client_id: str = "h1") -> tuple[int, dict[str, object]]:
    reply = client.post("/mixes/front/heard", {"client_id": client_id, "decision": decision, "heard": heard})
    return reply.status, reply.json


def test_mix_tells_what_it_is_asked_about(front: ApiClient, done: tuple[str, str]) -> None:
    assert front.get("/mixes/front").json["to_hear"] == [
        {"decision": done[1], "source": "voice", "source_name": "Voice", "done_db": -3.0}
    ]


def test_right_is_noted_and_asks_nothing(front: ApiClient, desk: ApiClient, done: tuple[str, str]) -> None:
    status, answer = say(front, done[1], "right")

    assert (status, answer["heard"], answer["request"]) == (201, "right", None)
    assert front.get("/mixes/front").json["to_hear"] == []
    assert front.get(f"/requests/{done[0]}").json["heard"] == "right"
    last = desk.get("/mixes/front/history").json["entries"][-1]
    assert (last["what"], last["heard"], last["words"], last["by"]) == ("heard", "right", None, "singer")
    assert desk.get("/queue").json["rows"] == []


def test_still_too_much_asks_again_and_names_the_request(
    front: ApiClient, desk: ApiClient, done: tuple[str, str]
) -> None:
    status, answer = say(front, done[1], "too_much")

    (row,) = desk.get("/queue").json["rows"]
    assert status == 201
    assert (row["requests"], row["sum_db"]) == ([answer["request"]], -3.0)


def test_same_body_again_is_answered_again_and_another_is_refused(
    front: ApiClient, done: tuple[str, str]
) -> None:
    first = say(front, done[1], "too_much")

    assert say(front, done[1], "too_much") == (200, first[1])
    status, answer = say(front, done[1], "right", "h2")
    assert (status, answer["error"]) == (409, "heard_already")


def test_unknown_decision_is_404_and_another_word_422(front: ApiClient) -> None:
    assert say(front, "d999", "right")[0] == 404
    assert say(front, "d999", "lovely", "h2")[0] == 422
