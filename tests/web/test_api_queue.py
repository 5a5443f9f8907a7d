"""The queue over JSON: rows added up, in working order, null where a field does not apply."""

import pytest

from tests.support.api_client import ApiClient
from tests.support.web_app import Site


def ask(client: ApiClient, mix: str, client_id: str, **said: object) -> str:
    reply = client.post(f"/mixes/{mix}/requests", {"client_id": client_id, **said})
    assert reply.status == 201
    return str(reply.json["request"])


def test_an_empty_queue_has_no_rows(site: Site, desk: ApiClient) -> None:
    assert desk.get("/queue").json == {"revision": site.show.revision, "rows": []}


def test_requests_of_one_kind_for_one_source_are_one_row(
    site: Site, desk: ApiClient, front: ApiClient
) -> None:
    ids = [
        ask(front, "front", f"a{change}{place}", kind="level", source="voice", change_db=change)
        for place, change in enumerate([3, 3, -1])
    ]
    site.wait(12.9)

    reply = desk.get("/queue")

    assert reply.json == {
        "revision": site.show.revision,
        "rows": [
            {
                "mix": "front",
                "mix_name": "Front wedge",
                "source": "voice",
                "source_name": "Voice",
                "kind": "level",
                "sum_db": 5.0,
                "sum_pan": None,
                "in_out": None,
                "words": [],
                "asked": 3,
                "asked_by": ["Singer"],
                "sums": [{"musician": "singer", "name": "Singer", "sum_db": 5.0, "sum_pan": None}],
                "oldest_wait_s": 12,
                "level_db": -20.0,
                "suggested_db": 3.0,
                "set_level_db": -17.0,
                "sends": [],
                "pan": None,
                "suggested_pan": None,
                "set_pan": None,
                "cautions": ["feedback margin not measured: at most +3"],
                "caution_codes": ["margin_not_measured"],
                "requests": ids,
                "state": "waiting",
                "urgent": None,
                "ear": None,
            }
        ],
    }


def test_a_row_for_the_whole_mix_has_no_source_and_the_level_of_the_output(
    desk: ApiClient, ears: ApiClient
) -> None:
    ask(ears, "ears", "a1", musician="bass", kind="level", source=None, change_db=-2.5)

    (row,) = desk.get("/queue").json["rows"]

    assert (row["source"], row["source_name"]) == (None, None)
    assert (row["sum_db"], row["level_db"], row["suggested_db"], row["set_level_db"]) == (
        -2.5,
        -10.0,
        -2.5,
        -12.5,
    )


def test_a_pan_row_has_pans_and_no_figures_in_db(desk: ApiClient, ears: ApiClient) -> None:
    ask(ears, "ears", "a1", musician="bass", kind="pan", source="guitar", change_pan=-0.4)

    (row,) = desk.get("/queue").json["rows"]

    assert (row["kind"], row["sum_pan"], row["pan"]) == ("pan", -0.4, 0.0)
    assert (row["suggested_pan"], row["set_pan"]) == (-0.4, -0.4)
    assert (row["sum_db"], row["suggested_db"], row["set_level_db"]) == (None, None, None)


def test_a_row_for_out_says_out(desk: ApiClient, front: ApiClient) -> None:
    ask(front, "front", "a1", kind="out", source="drums")

    (row,) = desk.get("/queue").json["rows"]

    assert (row["kind"], row["in_out"], row["level_db"]) == ("in_out", "out", -20.0)
    assert (row["sum_db"], row["sum_pan"], row["suggested_db"], row["set_level_db"]) == (
        None,
        None,
        None,
        None,
    )


def test_a_row_for_in_has_no_level_while_the_source_is_off(desk: ApiClient, front: ApiClient) -> None:
    desk.post("/mixes/front/corrections", {"source": "drums", "is_on": False})
    ask(front, "front", "a1", kind="in", source="drums")

    (row,) = desk.get("/queue").json["rows"]

    assert (row["in_out"], row["level_db"]) == ("in", None)


def test_a_sound_row_has_the_words(desk: ApiClient, front: ApiClient) -> None:
    ask(front, "front", "a1", kind="sound", source="voice", words="boomy")
    ask(front, "front", "a2", kind="sound", source="voice", words="still boomy")

    (row,) = desk.get("/queue").json["rows"]

    assert (row["kind"], row["asked"], row["words"]) == ("sound", 2, ["boomy", "still boomy"])
    assert (row["sum_db"], row["suggested_db"], row["set_level_db"]) == (None, None, None)


@pytest.mark.parametrize(
    ("call", "suggested", "set_to"),
    [("hurts", -6.0, -6.0), ("squeal", -3.0, -3.0), ("nothing", None, None), ("talk", None, None)],
)
def test_a_call_row_says_which_call_and_speaks_of_the_output(
    desk: ApiClient, front: ApiClient, call: str, suggested: float | None, set_to: float | None
) -> None:
    ask(front, "front", "a1", kind="call", call=call)

    (row,) = desk.get("/queue").json["rows"]

    assert (row["kind"], row["urgent"], row["source"], row["level_db"]) == ("call", call, None, 0.0)
    assert (row["sum_db"], row["suggested_db"], row["set_level_db"]) == (None, suggested, set_to)


def test_calls_come_first_and_what_is_set_aside_comes_last(
    site: Site, desk: ApiClient, front: ApiClient
) -> None:
    aside = ask(front, "front", "a1", kind="level", source="voice", change_db=1)
    desk.post("/decisions", {"requests": [aside], "outcome": "set_aside"})
    site.wait(1)
    ask(front, "front", "a2", kind="level", source="drums", change_db=1)
    site.wait(1)
    ask(front, "front", "a3", kind="sound", source=None, words="muddy")
    site.wait(1)
    ask(front, "front", "a4", kind="call", call="talk")

    rows = desk.get("/queue").json["rows"]

    assert [(row["kind"], row["source"], row["state"]) for row in rows] == [
        ("call", None, "waiting"),
        ("level", "drums", "waiting"),
        ("sound", None, "waiting"),
        ("level", "voice", "set_aside"),
    ]


def test_musicians_who_disagree_are_shown_with_both_figures(desk: ApiClient, ears: ApiClient) -> None:
    ask(ears, "ears", "a1", musician="bass", kind="level", source="drums", change_db=3)
    ask(ears, "ears", "a2", musician="drummer", kind="level", source="drums", change_db=-1)

    (row,) = desk.get("/queue").json["rows"]

    assert (row["sum_db"], row["suggested_db"], row["set_level_db"]) == (2.0, 0.0, -25.0)
    assert row["cautions"] == ["they disagree: Bass +3, Drummer \u22121"]
    assert [(own["name"], own["sum_db"]) for own in row["sums"]] == [("Bass", 3.0), ("Drummer", -1.0)]
    assert row["asked_by"] == ["Bass", "Drummer"]


def test_what_cancels_out_is_in_no_row(desk: ApiClient, front: ApiClient) -> None:
    ask(front, "front", "a1", kind="level", source="voice", change_db=3)

    reply = front.post(
        "/mixes/front/requests", {"client_id": "a2", "kind": "level", "source": "voice", "change_db": -3}
    )

    assert (reply.status, reply.json["state"]) == (201, "cancelled_out")
    assert desk.get("/queue").json["rows"] == []


def test_a_clock_that_was_set_back_makes_nobody_wait_less_than_nothing(
    site: Site, desk: ApiClient, front: ApiClient
) -> None:
    ask(front, "front", "a1", kind="level", source="voice", change_db=3)
    site.wait(-60)

    (row,) = desk.get("/queue").json["rows"]

    assert row["oldest_wait_s"] == 0
