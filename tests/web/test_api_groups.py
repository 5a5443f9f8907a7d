"""Groups over JSON: asked for under their own id, one row with each send, undone whole."""

import pytest

from monreq.domain import group_commands as g
from monreq.domain.groups import Group
from tests.support.api_client import ApiClient
from tests.support.web_app import Site


@pytest.fixture(autouse=True)
def band(site: Site) -> None:
    site.do(g.PutGroup(Group("band", "Band", ("drums", "guitar"))))


def ask(client: ApiClient, change_db: float = -3, client_id: str = "a1") -> str:
    said = {"client_id": client_id, "kind": "level", "source": "band", "change_db": change_db}
    reply = client.post("/mixes/front/requests", said)
    assert reply.status == 201
    return str(reply.json["request"])


def levels(desk: ApiClient) -> dict[str, float | None]:
    sends = desk.get("/mixes/front").json["sends"]
    return {send["source"]: send["level_db"] for send in sends if send["source"] in ("drums", "guitar")}


def test_mix_tells_its_groups(front: ApiClient) -> None:
    assert front.get("/mixes/front").json["groups"] == [
        {"source": "band", "source_name": "Band", "sources": ["drums", "guitar"], "sub_mix": None}
    ]


def test_row_of_a_group_has_no_level_of_its_own_and_lists_each_send(
    front: ApiClient, desk: ApiClient
) -> None:
    ask(front)

    (row,) = desk.get("/queue").json["rows"]

    assert (row["source"], row["source_name"], row["sum_db"], row["suggested_db"]) == ("band", "Band", -3, -3)
    assert (row["level_db"], row["set_level_db"]) == (None, None)
    assert row["sends"] == [
        {"source": "drums", "source_name": "Drums", "level_db": -20.0, "set_level_db": -23.0},
        {"source": "guitar", "source_name": "Guitar", "level_db": -20.0, "set_level_db": -23.0},
    ]


def test_done_moves_every_send_and_undo_takes_all_back(front: ApiClient, desk: ApiClient) -> None:
    request = ask(front)

    reply = desk.post("/decisions", {"requests": [request], "outcome": "done"})

    assert (reply.status, reply.json["level_db"]) == (200, None)
    assert levels(desk) == {"drums": -23.0, "guitar": -23.0}
    assert front.get(f"/requests/{request}").json["done_db"] == -3
    assert desk.post(f"/decisions/{reply.json['decision']}/undo").status == 200
    assert levels(desk) == {"drums": -20.0, "guitar": -20.0}


def test_history_lists_what_was_moved_besides_and_how(front: ApiClient, desk: ApiClient) -> None:
    desk.post("/decisions", {"requests": [ask(front)], "outcome": "done"})
    request = ask(front, 2, "a2")
    desk.post("/decisions", {"requests": [request], "outcome": "done", "way": "rest_down"})

    entries = [one for one in front.get("/mixes/front/history").json["entries"] if one["what"] == "done"]

    assert [(one["source"], one["way"], len(one["also"])) for one in entries] == [
        ("band", "plain", 2),
        ("band", "rest_down", 1),
    ]
    assert entries[0]["also"][0] == {
        "source": "drums",
        "source_name": "Drums",
        "before_db": -20.0,
        "after_db": -23.0,
        "before_pan": 0.0,
        "after_pan": 0.0,
        "before_on": True,
        "after_on": True,
    }


def test_level_read_off_and_pan_of_a_group_are_refused(front: ApiClient, desk: ApiClient) -> None:
    request = ask(front)

    level = desk.post("/decisions", {"requests": [request], "outcome": "done", "level_db": -12})
    pan = front.post(
        "/mixes/front/requests", {"client_id": "p", "kind": "pan", "source": "band", "change_pan": 0.2}
    )

    assert (level.status, level.json["error"]) == (422, "level_of_group")
    assert (pan.status, pan.json["error"]) == (422, "one_source_at_a_time")
