"""Asking over JSON: every kind, once and only once."""

import pytest

from monreq.domain import commands as c
from monreq.domain.decide_asking import MOST_WAITING
from tests.support.api_client import ApiClient
from tests.support.web_app import Site, told_by_api

Said = dict[str, object]

VOICE_UP: Said = {"client_id": "a1", "kind": "level", "source": "voice", "change_db": 3}


def post(client: ApiClient, said: Said, mix: str = "front") -> str:
    reply = client.post(f"/mixes/{mix}/requests", said)
    assert reply.status == 201
    return str(reply.json["request"])


def test_a_request_is_taken_and_waits(site: Site, front: ApiClient) -> None:
    reply = front.post("/mixes/front/requests", VOICE_UP)

    revision = site.show.revision
    assert reply.status == 201
    assert reply.json == {
        "request": told_by_api(site.show_id, f"r{revision}"),
        "revision": revision,
        "state": "waiting",
    }


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ({"kind": "level", "source": "guitar", "change_db": -0.1}, {"asked_db": -0.1}),
        ({"kind": "level", "source": "guitar", "change_db": 12}, {"asked_db": 12.0}),
        ({"kind": "level", "source": None, "change_db": -12.0}, {"asked_db": -12.0, "source": None}),
        ({"kind": "level", "source": "guitar", "amount": "touch", "direction": "more"}, {"asked_db": 1.0}),
        ({"kind": "level", "source": "guitar", "amount": "some", "direction": "less"}, {"asked_db": -3.0}),
        ({"kind": "level", "source": "guitar", "amount": "lot", "direction": "more"}, {"asked_db": 6.0}),
        (
            {"kind": "level", "change_db": 1, "amount": None, "direction": None},
            {"asked_db": 1.0, "source": None},
        ),
        ({"kind": "pan", "source": "guitar", "change_pan": -0.29}, {"asked_pan": -0.29, "kind": "pan"}),
        ({"kind": "pan", "source": "guitar", "change_pan": 2}, {"asked_pan": 2.0}),
        ({"kind": "out", "source": "guitar"}, {"in_out": "out", "kind": "in_out"}),
        ({"kind": "sound", "source": "guitar", "words": " too\u0000 \u202eharsh "}, {"words": "too harsh"}),
        ({"kind": "sound", "source": None, "words": "\u6e05\u695a"}, {"words": "\u6e05\u695a"}),
        ({"kind": "call", "source": None, "call": "hurts"}, {"call": "hurts", "kind": "call"}),
        ({"kind": "call", "call": "talk"}, {"call": "talk"}),
    ],
)
def test_each_kind_can_be_asked_and_is_read_back(
    site: Site, ears: ApiClient, said: Said, asked: Said
) -> None:
    request = post(ears, {"client_id": "a1", "musician": "bass", **said}, mix="ears")

    known = ears.get(f"/requests/{request}").json

    nothing = dict.fromkeys(
        ["asked_db", "asked_pan", "in_out", "words", "call", "done_db", "done_pan", "reason", "decision"]
    )
    expected = {"request": request, "revision": site.show.revision, "mix": "ears", "state": "waiting"}
    expected |= {"musician": "bass", "musician_name": "Bass", "source": said.get("source")}
    expected |= nothing | asked
    assert {name: known[name] for name in expected} == expected


def test_a_source_that_is_off_can_be_asked_in_and_not_up(desk: ApiClient, front: ApiClient) -> None:
    desk.post("/mixes/front/corrections", {"source": "guitar", "is_on": False})

    refused = front.post("/mixes/front/requests", VOICE_UP | {"source": "guitar"})
    taken = front.post("/mixes/front/requests", {"client_id": "a1", "kind": "in", "source": "guitar"})

    assert (refused.status, refused.error) == (422, "source_off")
    assert (taken.status, taken.json["state"]) == (201, "waiting")


@pytest.mark.parametrize(
    ("mix", "said", "error"),
    [
        ("front", {"kind": "level", "source": "voice", "change_db": 0}, "no_change"),
        ("front", {"kind": "level", "source": "voice", "change_db": 0.25}, "finer_than_tenths"),
        ("front", {"kind": "level", "source": "voice", "change_db": 12.1}, "bad_body"),
        ("front", {"kind": "level", "source": "voice", "change_db": -12.1}, "bad_body"),
        ("front", {"kind": "level", "source": "voice"}, "bad_body"),
        ("front", {"kind": "level", "source": "voice", "amount": "some"}, "bad_body"),
        ("front", {"kind": "level", "source": "voice", "direction": "more"}, "bad_body"),
        ("front", {"kind": "level", "source": "voice", "amount": "huge", "direction": "more"}, "bad_body"),
        (
            "front",
            {"kind": "level", "source": "voice", "change_db": 3, "amount": "some", "direction": "more"},
            "bad_body",
        ),
        ("front", {"kind": "level", "source": "nosuch", "change_db": 3}, "source_not_in_mix"),
        ("front", {"kind": "level", "source": "click", "change_db": 3}, "source_not_in_mix"),
        ("front", {"kind": "level", "source": "talk", "change_db": -3}, "talkback_not_less"),
        (
            "front",
            {"kind": "level", "source": "voice", "change_db": 3, "musician": "bass"},
            "unknown_musician",
        ),
        ("ears", {"kind": "level", "source": "voice", "change_db": 3}, "musician_required"),
        ("front", {"kind": "pan", "source": "voice", "change_pan": 0.2}, "no_pan_in_mono"),
        ("ears", {"kind": "pan", "source": "voice", "change_pan": 0, "musician": "bass"}, "no_change"),
        ("ears", {"kind": "pan", "source": "voice", "change_pan": 2.01, "musician": "bass"}, "bad_body"),
        (
            "ears",
            {"kind": "pan", "source": "voice", "change_pan": 0.205, "musician": "bass"},
            "finer_than_hundredths",
        ),
        ("ears", {"kind": "pan", "source": None, "change_pan": 0.2, "musician": "bass"}, "source_required"),
        ("front", {"kind": "in", "source": "voice"}, "source_already_on"),
        ("front", {"kind": "out", "source": None}, "source_required"),
        ("front", {"kind": "out", "source": "talk"}, "talkback_not_less"),
        ("front", {"kind": "sound", "source": "voice", "words": " \u200e "}, "words_required"),
        ("front", {"kind": "sound", "source": "voice", "words": "x" * 201}, "text_too_long"),
        ("front", {"kind": "sound", "source": "voice"}, "bad_body"),
        ("front", {"kind": "call", "call": "beer"}, "bad_body"),
        ("front", {"kind": "call", "call": "talk", "source": "voice"}, "bad_body"),
        ("front", {"kind": "in_out", "source": "voice"}, "bad_body"),
        ("front", {"source": "voice", "change_db": 3}, "bad_body"),
    ],
)
def test_what_cannot_be_asked_is_refused_and_not_stored(
    site: Site, desk: ApiClient, mix: str, said: Said, error: str
) -> None:
    before = site.show

    reply = desk.post(f"/mixes/{mix}/requests", {"client_id": "a1", **said})

    assert (reply.status, reply.error) == (422, error)
    assert site.show == before


def test_a_request_to_a_mix_that_is_not_there_is_not_found(desk: ApiClient) -> None:
    reply = desk.post("/mixes/nosuch/requests", VOICE_UP)

    assert (reply.status, reply.error) == (404, "unknown_mix")


@pytest.mark.parametrize("client_id", ["", "x" * 65, "a b", "a\n", "a/b", "\u00e4", "a'--", None, 7, ["a"]])
def test_a_client_id_of_another_form_is_refused(front: ApiClient, client_id: object) -> None:
    reply = front.post("/mixes/front/requests", VOICE_UP | {"client_id": client_id})

    assert (reply.status, reply.error) == (422, "bad_body")
    assert reply.json["message"].startswith("level.client_id: ")


def test_a_client_id_is_required(front: ApiClient) -> None:
    said = {name: value for name, value in VOICE_UP.items() if name != "client_id"}

    assert front.post("/mixes/front/requests", said).error == "bad_body"


@pytest.mark.parametrize("client_id", ["x" * 64, "A-z_0.9:1"])
def test_a_client_id_of_the_longest_and_oddest_form_is_taken(front: ApiClient, client_id: str) -> None:
    assert front.post("/mixes/front/requests", VOICE_UP | {"client_id": client_id}).status == 201


def test_the_same_body_again_gets_the_first_answer(site: Site, desk: ApiClient, front: ApiClient) -> None:
    first = front.post("/mixes/front/requests", VOICE_UP)
    desk.post("/decisions", {"requests": [first.json["request"]], "outcome": "done"})
    before = site.show

    again = front.post("/mixes/front/requests", VOICE_UP)

    assert (again.status, again.json) == (200, first.json)
    assert site.show == before


def test_the_same_body_in_other_words_is_the_same(front: ApiClient) -> None:
    first = front.post("/mixes/front/requests", VOICE_UP)

    again = front.send(
        "POST",
        "/mixes/front/requests",
        b' {"change_db": 3.0, "amount": null, "musician":null, "source":"voi\\u0063e","kind":"level","client_id":"a1"} ',
    )

    assert (again.status, again.json) == (200, first.json)


def test_a_repeat_of_what_cancelled_out_says_so_again(front: ApiClient) -> None:
    post(front, VOICE_UP)
    first = front.post("/mixes/front/requests", VOICE_UP | {"client_id": "a2", "change_db": -3})

    again = front.post("/mixes/front/requests", VOICE_UP | {"client_id": "a2", "change_db": -3})

    assert (first.status, first.json["state"]) == (201, "cancelled_out")
    assert (again.status, again.json) == (200, first.json)


@pytest.mark.parametrize(
    "other",
    [
        {"change_db": 3.1},
        {"source": "drums"},
        {"musician": "singer"},
        {"change_db": None, "amount": "some", "direction": "more"},
    ],
)
def test_another_body_under_a_used_client_id_is_refused(site: Site, front: ApiClient, other: Said) -> None:
    post(front, VOICE_UP)
    before = site.show

    reply = front.post("/mixes/front/requests", VOICE_UP | other)

    assert (reply.status, reply.error) == (422, "same_id_other_body")
    assert site.show == before


def test_a_client_id_belongs_to_its_mix(desk: ApiClient) -> None:
    post(desk, VOICE_UP, "front")

    other = desk.post("/mixes/ears/requests", VOICE_UP | {"client_id": "b1", "musician": "bass"})

    assert other.status == 201


def test_the_id_of_a_refused_body_is_free(desk: ApiClient, front: ApiClient) -> None:
    desk.post("/mixes/front/corrections", {"source": "voice", "is_on": False})
    refused = front.post("/mixes/front/requests", VOICE_UP)
    desk.post("/mixes/front/corrections", {"source": "voice", "is_on": True})

    assert refused.error == "source_off"
    assert front.post("/mixes/front/requests", VOICE_UP).status == 201


def test_a_repeat_is_answered_after_the_show_was_closed(site: Site, front: ApiClient) -> None:
    first = front.post("/mixes/front/requests", VOICE_UP)
    site.do(c.CloseShow())

    again = front.post("/mixes/front/requests", VOICE_UP)

    assert (again.status, again.json) == (200, first.json)


def test_a_request_that_the_desk_enters_says_so_and_is_the_musicians(site: Site, desk: ApiClient) -> None:
    post(desk, VOICE_UP)

    (asked,) = site.show.open_requests.values()
    assert site.recorded()[-1].by == "desk"
    assert asked.musician == "singer"


def test_a_request_of_a_mix_is_recorded_as_its_musicians(site: Site, front: ApiClient) -> None:
    post(front, VOICE_UP)

    assert site.recorded()[-1].by == "singer"


def test_one_more_than_fifty_waiting_is_refused_to_the_phone_and_not_to_the_desk(
    site: Site, desk: ApiClient, front: ApiClient
) -> None:
    for place in range(MOST_WAITING):
        post(desk, VOICE_UP | {"client_id": f"a{place}"})
    before = site.show

    reply = front.post("/mixes/front/requests", VOICE_UP | {"client_id": "more"})

    assert (reply.status, reply.error) == (429, "too_many_waiting")
    assert site.show == before
    assert desk.post("/mixes/front/requests", VOICE_UP | {"client_id": "more"}).status == 201


def test_fifty_waiting_of_one_musician_do_not_stop_another(desk: ApiClient, ears: ApiClient) -> None:
    for place in range(MOST_WAITING):
        post(desk, VOICE_UP | {"client_id": f"a{place}", "musician": "bass"}, "ears")

    own = ears.post("/mixes/ears/requests", VOICE_UP | {"client_id": "b1", "musician": "bass"})
    other = ears.post("/mixes/ears/requests", VOICE_UP | {"client_id": "b2", "musician": "drummer"})

    assert (own.error, other.status) == ("too_many_waiting", 201)
