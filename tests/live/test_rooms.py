"""Who is admitted to which room, and what a connection may not do."""

import logging
from typing import Any

import pytest
from flask_socketio import SocketIOTestClient

from monreq.domain import commands as c
from monreq.live.rooms import Room
from tests.support.live import SHOW, LiveHouse, put_admissions


@pytest.fixture
def house() -> LiveHouse:
    house = LiveHouse()
    put_admissions(house)
    return house


def connect(house: LiveHouse, namespace: str, auth: dict[str, Any] | None = None) -> SocketIOTestClient:
    browser = house.app.test_client()
    browser.get("/admit/front")
    return house.socketio.test_client(house.app, namespace=namespace, auth=auth, flask_test_client=browser)


def refused_with(house: LiveHouse, namespace: str, auth: dict[str, Any] | None) -> bool:
    client = house.socketio.test_client(house.app, namespace=namespace, auth=auth)
    return not client.is_connected(namespace)


def test_rooms_tell_a_new_phone_the_revision_of_its_mix(house: LiveHouse) -> None:
    revision = house.ask("front")
    house.ask("ears")

    phone = connect(house, "/phone", {"token": "front@0"})

    (first,) = phone.get_received("/phone")
    assert (first["name"], first["args"]) == ("at", [{"revision": revision}])


def test_rooms_tell_a_new_desk_the_revision_of_the_show_and_as_of_when(house: LiveHouse) -> None:
    house.ask("front")
    revision = house.ask("ears")

    desk = connect(house, "/desk", {"token": "desk@0"})

    (first,) = desk.get_received("/desk")
    as_of = house.shows.state(SHOW).at_ms
    assert (first["name"], first["args"]) == ("at", [{"revision": revision, "as_of": as_of}])


def test_rooms_admit_by_the_cookie_to_the_mix_that_the_page_names(house: LiveHouse) -> None:
    phone, desk = connect(house, "/phone", {"mix": "front"}), connect(house, "/desk", {})
    house.ask("front")
    house.announcer.announce_waiting()

    assert [one["name"] for one in phone.get_received("/phone")] == ["at", "changed"]
    assert [one["name"] for one in desk.get_received("/desk")] == ["at", "changed"]


@pytest.mark.security
@pytest.mark.parametrize(
    ("namespace", "auth"),
    [
        ("/phone", None),
        ("/phone", {}),
        ("/phone", {"token": "drums@0"}),
        ("/phone", {"token": "front@1"}),
        ("/phone", {"token": "desk@0"}),
        ("/desk", {"token": "front@0"}),
        ("/desk", {}),
        ("/desk", {"token": ["desk@0"]}),
    ],
)
def test_rooms_refuse_whoever_has_no_right_there(
    house: LiveHouse, namespace: str, auth: dict[str, Any] | None
) -> None:
    assert refused_with(house, namespace, auth)


@pytest.mark.security
def test_rooms_refuse_a_mix_that_the_cookie_does_not_hold(house: LiveHouse) -> None:
    phone = connect(house, "/phone", {"mix": "ears"})

    assert not phone.is_connected("/phone")


@pytest.mark.security
def test_rooms_refuse_a_code_that_was_replaced(house: LiveHouse) -> None:
    house.do(c.ReplaceCode("front"))

    assert refused_with(house, "/phone", {"token": "front@0"})
    assert not refused_with(house, "/phone", {"token": "front@1"})


def test_rooms_refuse_where_admitting_failed(house: LiveHouse, caplog: pytest.LogCaptureFixture) -> None:
    assert refused_with(house, "/phone", {"token": "fault"})
    assert [record.levelno for record in caplog.records] == [logging.ERROR]


def test_rooms_answer_an_unknown_event(house: LiveHouse) -> None:
    phone = connect(house, "/phone", {"token": "front@0"})

    answer: Any = phone.emit("more", {"source": "voice"}, namespace="/phone", callback=True)

    assert answer["error"] == "unknown_event"


def test_rooms_answer_for_a_handler_that_raises(house: LiveHouse, caplog: pytest.LogCaptureFixture) -> None:
    @house.socketio.on("fail", namespace="/other")
    def fail() -> None:
        raise ValueError("made to fail")

    client = house.socketio.test_client(house.app, namespace="/other")

    answer: Any = client.emit("fail", namespace="/other", callback=True)

    assert answer["error"] == "failed"
    assert [record.levelno for record in caplog.records] == [logging.ERROR]


@pytest.mark.security
def test_rooms_keep_the_right_that_a_connection_came_with(house: LiveHouse) -> None:
    phone = connect(house, "/phone", {"token": "front@0"})
    phone.get_received("/phone")

    phone.emit("connect", {}, {"token": "ears@0"}, namespace="/phone")
    house.ask("ears")
    house.announcer.announce_waiting()

    assert phone.get_received("/phone") == []


@pytest.mark.security
def test_rooms_push_nothing_to_one_who_pretends_to_have_left(house: LiveHouse) -> None:
    phone = connect(house, "/phone", {"token": "front@0"})
    phone.get_received("/phone")

    phone.emit("disconnect", "gone", namespace="/phone")
    house.ask("front")
    house.announcer.announce_waiting()

    assert phone.get_received("/phone") == []


def test_rooms_forget_a_connection_that_left(house: LiveHouse) -> None:
    phone = connect(house, "/phone", {"token": "front@0"})
    phone.disconnect("/phone")
    house.do(c.ReplaceCode("front"))

    house.announcer.announce_waiting()

    assert not phone.is_connected("/phone")


def test_room_of_a_replaced_code_is_another_room(house: LiveHouse) -> None:
    before = Room.of(house.shows.state(SHOW), "front")
    house.do(c.ReplaceCode("front"))
    after = Room.of(house.shows.state(SHOW), "front")

    assert before.name != after.name
    assert (before.is_valid(house.shows.state(SHOW)), after.is_valid(house.shows.state(SHOW))) == (
        False,
        True,
    )
