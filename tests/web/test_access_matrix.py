"""Every route and live connection times everybody who might knock: each cell has its declared answer."""

from collections.abc import Iterator
from typing import Any

import pytest
from werkzeug.routing import Rule
from werkzeug.test import TestResponse

from monreq.domain import commands as c
from monreq.live.rooms import DESK as DESK_PAGES
from monreq.live.rooms import PHONE as PHONE_PAGES
from monreq.storage.settings import FIRST_EPOCH
from tests.support.doors import (
    CALLERS,
    DESK,
    EXPECTED,
    FOREIGN_DESK,
    FORMER,
    LET_IN,
    NEIGHBOUR,
    NOBODY,
    OLD_DESK,
    OTHER_SHOW,
    OWN,
    WITHOUT_RIGHT,
    Caller,
    Door,
    Here,
    declared_in_vain,
    door_of,
)
from tests.support.evening import SHOW, Evening
from tests.support.routes import address, rules
from tests.support.web_app import told_by_api

pytestmark = pytest.mark.security

METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")
OURS = ("Dorothea", "Glass harp", "Front wedge")
LEVEL = {"client_id": "a1", "kind": "level", "source": "voice", "change_db": 3}


@pytest.fixture
def house(evening: Evening) -> Evening:
    """An evening beside another show."""
    evening.monreq.shows.open(OTHER_SHOW, c.OpenShow("Elsewhere"))
    return evening


def doors(evening: Evening) -> list[tuple[str, Rule, Door]]:
    """Give every way in: first the interface, whose token a replaced code ends, last what closes or admits to more."""
    found = [(method, rule, door_of(rule.endpoint)) for method, rule in rules(evening, *METHODS)]
    declared = [(method, rule, door) for method, rule, door in found if door is not None]
    return sorted(declared, key=_when)


def _when(way: tuple[str, Rule, Door]) -> tuple[bool, bool, str]:
    method, rule, door = way
    return door is Door.CODE or rule.endpoint.endswith("close_show"), "/api/" not in rule.rule, method


def body_for(endpoint: str, request: str) -> dict[str, Any]:
    bodies: dict[str, dict[str, Any]] = {
        "api.post_request": LEVEL | {"musician": "singer"},
        "api.post_heard": {
            "client_id": "h",
            "musician": "singer",
            "decision": told_by_api(SHOW, "d1"),
            "heard": "right",
        },
        "api.post_decision": {"requests": [request], "outcome": "done"},
        "api.post_correction": {"source": "voice", "level_db": -3},
    }
    return bodies.get(endpoint, {})


def fields_for(request: str) -> dict[str, str]:
    """What would do something at one page or another."""
    return {
        "client_id": "x",
        "show": f"{SHOW}.{FIRST_EPOCH}",
        "do": "more:voice",
        "name": "Mine",
        "change": "+3",
        "musician": "singer",
        "seen": "1",
        "network": "Mine",
        "row-front-voice-level-requests": request,
    }


def knock(evening: Evening, here: Here, method: str, rule: Rule, request: str) -> TestResponse:
    decisions = evening.show.decisions
    decision, told = next(iter(decisions), "d1"), told_by_api(SHOW, request)
    path = address(evening, rule, request_id=told, decision=told_by_api(SHOW, decision))
    if rule.endpoint.startswith("api."):
        said: dict[str, Any] = {"json": body_for(rule.endpoint, told)} if method == "POST" else {}
        return here.client.open(path, method=method, headers=here.bearer, buffered=True, **said)
    data = {**fields_for(request), "csrf_token": here.csrf} if method != "GET" else None
    return here.client.open(path, method=method, data=data, buffered=True)


def test_every_route_is_declared_and_every_row_has_a_route(house: Evening) -> None:
    endpoints = {rule.endpoint for rule in house.monreq.flask.url_map.iter_rules()}

    undeclared = sorted(one for one in endpoints if door_of(one) is None)

    assert undeclared == [], "say in tests/support/doors.py whose these are"
    assert declared_in_vain(endpoints) == set()
    assert all(set(answers) == set(CALLERS) for answers in EXPECTED.values())


@pytest.mark.parametrize("caller", CALLERS, ids=lambda caller: caller.name)
def test_every_door_answers_every_caller_as_declared(house: Evening, caller: Caller) -> None:
    request = house.ask("front", "voice", 30)
    here = caller.comes(house)
    seen, wanted, harmed = {}, {}, []

    for method, rule, door in doors(house):
        before = house.show
        answer = knock(house, here, method, rule, request)
        way, expected = f"{method} {rule.rule}", EXPECTED[door][caller]
        is_let_in = answer.status_code not in WITHOUT_RIGHT and answer.status_code < 500
        seen[way] = LET_IN if expected == LET_IN and is_let_in else answer.status_code
        wanted[way] = expected
        may_change = expected == LET_IN and caller is not FOREIGN_DESK and door not in (Door.OPEN, Door.CODE)
        if house.show != before and not may_change:
            harmed.append(way)

    assert len(seen) > 55
    assert seen == wanted
    assert harmed == []


@pytest.mark.parametrize("caller", [NOBODY, FORMER, OLD_DESK, FOREIGN_DESK], ids=lambda caller: caller.name)
def test_who_has_no_right_here_reads_no_name_of_the_show(house: Evening, caller: Caller) -> None:
    request = house.ask("front", "voice", 30)
    here = caller.comes(house)

    told = {
        rule.rule: [word for word in OURS if word in knock(house, here, method, rule, request).text]
        for method, rule, door in doors(house)
        if door not in (Door.OPEN, Door.CODE) and "pdf" not in rule.rule
    }

    assert {way: words for way, words in told.items() if words} == {}


LIVE = {
    DESK_PAGES: {OWN: "unknown_code", NEIGHBOUR: "unknown_code", DESK: "", FOREIGN_DESK: ""},
    PHONE_PAGES: {OWN: "", NEIGHBOUR: "", DESK: "unknown_code", FOREIGN_DESK: "unknown_code"},
}
"""Why each caller is not let in by its own token; who is in no row has no right anywhere."""


def refusals(
    house: Evening, caller: Caller, namespace: str, auth: dict[str, str], here: Here
) -> Iterator[str]:
    """Knock at a namespace; gives the code of each refusal."""
    live = house.monreq.socketio
    client = live.test_client(
        house.monreq.flask, flask_test_client=here.client, namespace=namespace, auth=auth
    )
    if not client.is_connected(namespace):
        yield f"{caller.name} was refused"
        return
    (first, *_) = client.get_received(namespace)
    assert first["name"] == "at"
    said: Any = client.emit("anything", {"mix": "front"}, namespace=namespace, callback=True)
    assert said["error"] == "unknown_event"


@pytest.mark.parametrize("namespace", [DESK_PAGES, PHONE_PAGES])
@pytest.mark.parametrize("caller", CALLERS, ids=lambda caller: caller.name)
def test_every_live_connection_is_let_in_as_declared(house: Evening, caller: Caller, namespace: str) -> None:
    here = caller.comes(house)
    by_token = {"token": here.bearer.get("Authorization", "Bearer ").removeprefix("Bearer ")}
    by_cookie = {"mix": caller.mix or "front"}
    is_let_in = LIVE[namespace].get(caller) == ""

    refused = [list(refusals(house, caller, namespace, auth, here)) for auth in (by_token, by_cookie)]

    assert refused == ([[], []] if is_let_in else [[f"{caller.name} was refused"]] * 2)


def test_a_phone_hears_nothing_by_naming_a_neighbours_mix(house: Evening) -> None:
    here = NEIGHBOUR.comes(house)

    refused = list(refusals(house, NEIGHBOUR, PHONE_PAGES, {"mix": "front"}, here))

    assert refused == ["a musician of another mix was refused"]


def test_nothing_else_listens_than_the_two_declared_namespaces(house: Evening) -> None:
    server: Any = house.monreq.socketio
    live = server.server

    assert set(live.namespace_handlers) == {DESK_PAGES, PHONE_PAGES}
    assert {name: events for name, events in live.handlers.items() if events} == {}


def test_the_show_that_is_looked_at_is_the_evening(house: Evening) -> None:
    assert [entry.id for entry in house.monreq.shows.entries()] == [SHOW, OTHER_SHOW]
