"""Mixes over JSON: their facts, sends, what waits, what was done, how far they drifted, and what happened."""

import pytest

from monreq.domain import commands as c
from monreq.domain.setup import Mix, Musician, Output
from tests.support.api_client import ApiClient
from tests.support.web_app import Site


def ask(client: ApiClient, mix: str, client_id: str, **said: object) -> str:
    return str(client.post(f"/mixes/{mix}/requests", {"client_id": client_id, **said}).json["request"])


def send(client: ApiClient, mix: str, source: str) -> dict[str, object]:
    sends = client.get(f"/mixes/{mix}").json["sends"]
    return next(dict(one) for one in sends if one["source"] == source)


def test_the_desk_sees_every_mix(site: Site, desk: ApiClient) -> None:
    reply = desk.get("/mixes")

    assert reply.json["revision"] == site.show.revision
    assert reply.json["mixes"] == [
        {
            "mix": "front",
            "mix_name": "Front wedge",
            "output": "wedge",
            "is_fed_mono": False,
            "place": "",
            "auxes": [],
            "musicians": [{"musician": "singer", "name": "Singer"}],
            "drift_db": None,
            "waiting": 0,
            "waiting_db": 0.0,
            "done_db": 0.0,
            "output_db": 0.0,
        },
        {
            "mix": "ears",
            "mix_name": "Rhythm in-ears",
            "output": "in_ear_pair",
            "is_fed_mono": False,
            "place": "",
            "auxes": [],
            "musicians": [{"musician": "bass", "name": "Bass"}, {"musician": "drummer", "name": "Drummer"}],
            "drift_db": None,
            "waiting": 0,
            "waiting_db": 0.0,
            "done_db": 0.0,
            "output_db": -10.0,
        },
    ]


def test_one_mix_says_all_that_the_list_says_and_its_sends(desk: ApiClient) -> None:
    listed = desk.get("/mixes").json["mixes"][0]

    mix = desk.get("/mixes/front").json

    assert {name: mix[name] for name in listed} == listed
    assert [one["source"] for one in mix["sends"]] == ["voice", "drums", "guitar", "talk"]
    assert mix["sends"][0] == {
        "source": "voice",
        "source_name": "Voice",
        "kind": "open_mic",
        "use": "music",
        "level_db": -20.0,
        "pan": None,
        "waiting_db": 0.0,
        "done_db": 0.0,
        "margin_db": None,
        "confirmed_at": None,
    }


def test_a_mix_token_reads_its_own_mix(desk: ApiClient, front: ApiClient) -> None:
    assert front.get("/mixes/front").json == desk.get("/mixes/front").json


def test_a_mix_that_is_not_there_is_not_found(desk: ApiClient) -> None:
    reply = desk.get("/mixes/nosuch")

    assert (reply.status, reply.error) == (404, "unknown_mix")


def test_a_send_that_is_off_has_no_level(desk: ApiClient) -> None:
    desk.post("/mixes/ears/corrections", {"source": "guitar", "is_on": False})

    guitar = send(desk, "ears", "guitar")

    assert (guitar["level_db"], guitar["pan"]) == (None, 0.0)


def test_what_waits_and_what_was_done_stand_beside_the_send(desk: ApiClient, front: ApiClient) -> None:
    first = ask(front, "front", "a1", kind="level", source="guitar", change_db=2.5)
    desk.post("/decisions", {"requests": [first], "outcome": "done"})
    ask(front, "front", "a2", kind="level", source="guitar", change_db=-1)
    ask(front, "front", "a3", kind="level", source=None, change_db=4)

    guitar, mix = send(desk, "front", "guitar"), desk.get("/mixes/front").json

    assert (guitar["level_db"], guitar["waiting_db"], guitar["done_db"]) == (-17.5, -1.0, 2.5)
    assert (mix["waiting"], mix["waiting_db"], mix["done_db"]) == (2, 4.0, 0.0)


def test_what_is_set_aside_does_not_wait(desk: ApiClient, front: ApiClient) -> None:
    aside = ask(front, "front", "a1", kind="level", source="guitar", change_db=2)
    desk.post("/decisions", {"requests": [aside], "outcome": "set_aside"})

    assert send(desk, "front", "guitar")["waiting_db"] == 0.0
    assert desk.get("/mixes/front").json["waiting"] == 0


def test_drift_is_measured_from_the_mark(desk: ApiClient) -> None:
    marked = desk.post("/soundcheck-mark")
    at_mark = desk.get("/mixes/front").json["drift_db"]

    desk.post("/mixes/front/corrections", {"source": None, "level_db": 2.5})

    assert marked.json["marked_at"] == "2023-11-14T22:13:20Z"
    assert desk.get("/show").json["marked_at"] == "2023-11-14T22:13:20Z"
    assert at_mark == 0.0
    assert desk.get("/mixes/front").json["drift_db"] == 2.5


def test_done_begins_again_at_the_mark(desk: ApiClient, front: ApiClient) -> None:
    first = ask(front, "front", "a1", kind="level", source="guitar", change_db=2)
    desk.post("/decisions", {"requests": [first], "outcome": "done"})

    desk.post("/soundcheck-mark")

    guitar = send(desk, "front", "guitar")
    assert (guitar["level_db"], guitar["done_db"]) == (-18.0, 0.0)


def test_a_correction_answers_where_it_stands_now(site: Site, desk: ApiClient) -> None:
    reply = desk.post("/mixes/ears/corrections", {"source": "guitar", "level_db": -12.5, "pan": -0.25})

    assert reply.status == 200
    assert reply.json == {"revision": site.show.revision, "level_db": -12.5, "pan": -0.25}
    assert send(desk, "ears", "guitar")["level_db"] == -12.5


def test_a_correction_that_leaves_everything_confirms_it(site: Site, desk: ApiClient) -> None:
    site.wait(60)

    desk.post("/mixes/front/corrections", {"source": "voice"})

    assert send(desk, "front", "voice")["confirmed_at"] == "2023-11-14T22:14:20Z"
    assert send(desk, "front", "drums")["confirmed_at"] is None


@pytest.mark.parametrize(
    ("body", "error"),
    [
        ({"source": "voice", "level_db": 10.1}, "outside_range"),
        ({"source": "voice", "level_db": -90.1}, "outside_range"),
        ({"source": "voice", "level_db": -3.25}, "finer_than_tenths"),
        ({"source": "voice", "pan": 0.5}, "no_pan_in_mono"),
        ({"source": "nosuch", "level_db": -3}, "source_not_in_mix"),
        ({"source": "voice", "pan": 1.01}, "bad_body"),
        ({"source": "voice", "pan": 0.125}, "finer_than_hundredths"),
        ({"source": "voice", "is_on": 1}, "bad_body"),
        ({"level_db": -3}, "bad_body"),
    ],
)
def test_a_correction_that_cannot_be_is_refused(
    site: Site, desk: ApiClient, body: dict[str, object], error: str
) -> None:
    before = site.show

    reply = desk.post("/mixes/front/corrections", body)

    assert (reply.status, reply.error) == (422, error)
    assert site.show == before


def test_names_from_people_come_back_as_text_and_nothing_else(site: Site, desk: ApiClient) -> None:
    name = '</script><b>"Zoë" 😀 & sons\\'
    site.do(c.PutMusician(Musician("odd", name)))
    site.do(c.PutMix(Mix("odd", name, Output.WEDGE, ("odd",), place="{{ 7 * 7 }}")))

    mix = desk.get("/mixes/odd").json

    assert (mix["mix_name"], mix["musicians"], mix["place"]) == (
        name,
        [{"musician": "odd", "name": name}],
        "{{ 7 * 7 }}",
    )


def test_the_show_says_what_the_amounts_are(site: Site, front: ApiClient) -> None:
    assert front.get("/show").json == {
        "show": "show1",
        "name": "Evening",
        "revision": site.show.revision,
        "is_open": True,
        "is_demo": False,
        "marked_at": None,
        "amounts_db": {"touch": 1.0, "some": 3.0, "lot": 6.0},
    }


def test_the_history_tells_what_happened_in_order(site: Site, desk: ApiClient, front: ApiClient) -> None:
    start = site.show.revision
    site.wait(30)
    asked = ask(front, "front", "a1", kind="level", source="guitar", change_db=4)
    decision = desk.post(
        "/decisions", {"requests": [asked], "outcome": "done", "done_db": 2, "reason": "near_feedback"}
    ).json["decision"]
    desk.post(f"/decisions/{decision}/undo")

    reply = front.get(f"/mixes/front/history?after={start}")

    assert reply.json["revision"] == site.show.revision
    seen = [
        (one["revision"], one["what"], one["who"], one["asked_db"], one["before_db"], one["after_db"])
        for one in reply.json["entries"]
    ]
    assert seen == [
        (start + 1, "asked", "Singer", 4.0, None, None),
        (start + 2, "done", "desk", 4.0, -20.0, -18.0),
        (start + 3, "undone", "desk", 4.0, -18.0, -20.0),
    ]
    assert reply.json["entries"][1] == {
        "revision": start + 2,
        "at": "2023-11-14T22:13:50Z",
        "by": "desk",
        "who": "desk",
        "what": "done",
        "source": "guitar",
        "source_name": "Guitar",
        "kind": "level",
        "asked_db": 4.0,
        "asked_pan": None,
        "in_out": None,
        "words": None,
        "call": None,
        "before_db": -20.0,
        "after_db": -18.0,
        "before_pan": 0.0,
        "after_pan": 0.0,
        "before_on": True,
        "after_on": True,
        "way": "plain",
        "also": [],
        "heard": None,
        "reason": "near_feedback",
        "requests": [asked],
        "decision": decision,
    }


def test_the_history_of_a_mix_holds_nothing_of_another(
    desk: ApiClient, front: ApiClient, ears: ApiClient
) -> None:
    start = desk.get("/show").json["revision"]
    ask(ears, "ears", "a1", musician="bass", kind="sound", source="guitar", words="harsh")
    desk.post("/soundcheck-mark")

    entries = front.get(f"/mixes/front/history?after={start}").json["entries"]

    assert [(one["what"], one["words"]) for one in entries] == [("soundcheck_mark", None)]


def test_a_history_read_on_from_its_revision_misses_and_repeats_nothing(
    desk: ApiClient, front: ApiClient
) -> None:
    ask(front, "front", "a1", kind="level", source="guitar", change_db=4)
    first = front.get("/mixes/front/history").json
    ask(front, "front", "a2", kind="level", source="drums", change_db=1)

    second = front.get(f"/mixes/front/history?after={first['revision']}").json

    assert first["entries"] + second["entries"] == desk.get("/mixes/front/history").json["entries"]
    assert [one["source"] for one in second["entries"]] == ["drums"]


@pytest.mark.parametrize("after", ["-1", "x", "1.5", "", "NaN", "9" * 30])
def test_a_revision_that_is_none_is_refused(desk: ApiClient, after: str) -> None:
    reply = desk.get(f"/mixes/front/history?after={after}")

    assert (reply.status, reply.error) == (422, "bad_body")


def test_the_history_of_an_unknown_mix_is_not_found(desk: ApiClient) -> None:
    assert desk.get("/mixes/nosuch/history").status == 404
