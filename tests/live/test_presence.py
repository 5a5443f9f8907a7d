"""Presence of pages: what a page may say, where it is kept, and what a desk is told of it."""

import secrets
from collections.abc import Iterator
from typing import Any

import pytest
from flask_socketio import SocketIOTestClient
from redis import Redis

from monreq.domain.presence import LEFT_MS, SILENT_MS, PhoneState, Sign
from monreq.live.presence import MemorySigns, Presence, Signs, signs_for
from monreq.live.presence_teller import PRESENCE, PresenceTeller
from tests.support.live import SHOW, LiveHouse
from tests.support.workers import redis_url

NOW = 1_700_000_000_000


class Clock:
    """A time that only a test moves."""

    def __init__(self) -> None:
        self.now_ms = NOW

    def __call__(self) -> int:
        return self.now_ms


@pytest.fixture(params=["memory", "redis"])
def signs(request: pytest.FixtureRequest) -> Iterator[Signs]:
    if request.param == "memory":
        yield MemorySigns()
        return
    url = redis_url()
    redis = Redis.from_url(url)
    yield signs_for(url)
    redis.delete(*redis.keys("monreq:here:test-*") or ["none"])
    redis.close()


@pytest.fixture
def show_id() -> str:
    return f"test-{secrets.token_hex(4)}"


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def presence(signs: Signs, clock: Clock) -> Presence:
    return Presence(signs, clock)


def says(page: str = "phone1", *, awake: bool = True, row: str = "") -> dict[str, Any]:
    return {"page": page, "awake": awake, "row": row}


def test_signs_keep_the_last_of_each_page(signs: Signs, show_id: str) -> None:
    first = Sign("a", "front", NOW, NOW)
    then = Sign("a", "front", NOW + 1, NOW + 2, is_awake=False)
    other = Sign("a", None, NOW, NOW, None, "Bühne", "row-x--call", NOW)
    for sign in (first, then, other):
        signs.put(show_id, sign)

    assert sorted(signs.of(show_id), key=lambda one: one.name) == [then, other]
    signs.drop(show_id, [then])
    assert signs.of(show_id) == [other]
    assert signs.of(f"{show_id}x") == []


def test_phone_sleeps_from_when_it_said_so_first(presence: Presence, clock: Clock, show_id: str) -> None:
    presence.here("s1", show_id, "front", says())
    clock.now_ms += 5000
    presence.here("s1", show_id, "front", says(awake=False))
    clock.now_ms += 20_000
    presence.here("s1", show_id, "front", says(awake=False))

    phones = presence.snapshot(show_id).of("front")

    assert (phones.state, phones.since_ms) == (PhoneState.ASLEEP, NOW + 5000)


def test_broken_connection_is_no_goodbye(presence: Presence, clock: Clock, show_id: str) -> None:
    presence.here("s1", show_id, "front", says())
    presence.left("s1", said_goodbye=False)
    clock.now_ms += LEFT_MS

    awake = presence.snapshot(show_id).of("front").state
    clock.now_ms += SILENT_MS

    assert (awake, presence.snapshot(show_id).of("front").state) == (PhoneState.AWAKE, PhoneState.ASLEEP)


def test_page_that_closed_is_gone_and_one_that_came_back_is_not(
    presence: Presence, clock: Clock, show_id: str
) -> None:
    presence.here("s1", show_id, "front", says())
    presence.here("s2", show_id, "ears", says("phone2"))
    presence.here("s3", show_id, "ears", says("phone2"))
    presence.left("s1", said_goodbye=True)
    presence.left("s2", said_goodbye=True)
    clock.now_ms += LEFT_MS

    found = presence.snapshot(show_id)

    assert (found.of("front").state, found.of("ears").state) == (PhoneState.GONE, PhoneState.AWAKE)


def test_desk_stays_on_its_row_between_beats(presence: Presence, clock: Clock, show_id: str) -> None:
    presence.here("d", show_id, None, says("desk1", row="row-front-voice-level"), "House")
    clock.now_ms += 10_000
    presence.here("d", show_id, None, says("desk1"), "House")

    (desk,) = presence.snapshot(show_id).desks

    assert (desk.name, desk.row) == ("House", "row-front-voice-level")


@pytest.mark.security
@pytest.mark.parametrize("page", ["", "x" * 33, "a b", "<b>", "ä", "a/b"])
def test_page_with_an_id_of_no_kind_is_not_heard(presence: Presence, show_id: str, page: str) -> None:
    presence.here("s1", show_id, "front", says(page))

    assert presence.snapshot(show_id).of("front").state is PhoneState.NONE


@pytest.mark.security
def test_row_that_is_none_is_not_told(presence: Presence, show_id: str) -> None:
    presence.here("d", show_id, None, says("desk1", row='row-"><script>'))

    assert presence.snapshot(show_id).desks[0].row == ""


@pytest.mark.security
def test_phone_that_pretends_to_be_many_fills_nothing(presence: Presence, signs: Signs, show_id: str) -> None:
    presence.here("s0", show_id, "ears", says("other"))
    for number in range(200):
        presence.here("s1", show_id, "front", says(f"phone{number}"))

    assert len([one for one in signs.of(show_id) if one.mix == "front"]) <= 40
    assert presence.snapshot(show_id).of("ears").state is PhoneState.AWAKE


def test_redis_that_is_gone_leaves_nobody_known(caplog: pytest.LogCaptureFixture) -> None:
    presence = Presence(signs_for("redis://127.0.0.1:1"), Clock())

    presence.here("s1", "show", "front", says())
    presence.here("s1", "show", "front", says())

    assert presence.snapshot("show").of("front").state is PhoneState.NONE
    assert len(caplog.records) == 1


class Told:
    """A desk and a phone over Socket.IO, and the teller between them."""

    def __init__(self) -> None:
        self.house = LiveHouse()
        self.clock = Clock()
        self.presence = Presence(MemorySigns(), self.clock)
        self.house.rooms.attended_by(self.presence, lambda _cookie: "House")
        self.tell = PresenceTeller(self.house.rooms, self.draw)
        self.desk = self.connect("/desk", "desk@0")
        self.phone = self.connect("/phone", "front@0")

    def connect(self, namespace: str, token: str) -> SocketIOTestClient:
        client = self.house.socketio.test_client(self.house.app, namespace=namespace, auth={"token": token})
        client.get_received(namespace)
        return client

    def draw(self, show_id: str, language: str) -> dict[str, str]:
        found = self.presence.snapshot(show_id)
        desks = ",".join(f"{desk.name}:{desk.row}" for desk in found.desks)
        return {"phone-front": f"{found.of('front').state}", "desks": f"{language} {desks}"}

    def heard(self, namespace: str = "/desk") -> list[dict[str, str]]:
        client = self.desk if namespace == "/desk" else self.phone
        return [
            one["args"][0]["fragments"] for one in client.get_received(namespace) if one["name"] == PRESENCE
        ]


def test_desk_is_told_once_of_all_that_changed_since_the_last_time() -> None:
    told = Told()
    told.tell()
    told.heard()

    for awake in (True, False, True):
        told.phone.emit("here", says(awake=awake), namespace="/phone")
    told.desk.emit("here", says("desk1", row="row-front-voice-level"), namespace="/desk")
    told.tell()
    told.tell()

    assert told.heard() == [{"phone-front": "awake", "desks": "en House:row-front-voice-level"}]
    assert told.heard("/phone") == []


def test_show_is_not_changed_by_who_is_there() -> None:
    told = Told()
    before = told.house.shows.state(SHOW)

    told.phone.emit("here", says(), namespace="/phone")
    told.tell()

    assert told.house.shows.state(SHOW) is before


@pytest.mark.security
def test_page_speaks_for_the_mix_alone_that_it_was_admitted_to() -> None:
    told = Told()

    told.phone.emit("here", {**says(), "mix": "ears"}, namespace="/phone")

    found = told.presence.snapshot(SHOW)
    assert (found.of("front").state, found.of("ears").state) == (PhoneState.AWAKE, PhoneState.NONE)


@pytest.mark.security
@pytest.mark.parametrize("said", [None, "page", ["page"], {"page": {"a": 1}}, {"awake": "yes"}])
def test_page_that_says_nonsense_is_not_heard(said: object) -> None:
    told = Told()

    told.phone.emit("here", said, namespace="/phone")

    assert told.presence.snapshot(SHOW).phones == ()


def test_phone_that_disconnects_itself_is_gone() -> None:
    told = Told()
    told.phone.emit("here", says(), namespace="/phone")

    told.phone.disconnect("/phone")
    told.clock.now_ms += LEFT_MS

    assert told.presence.snapshot(SHOW).of("front").state is PhoneState.GONE


def test_two_phones_of_one_mix_are_both_known(presence: Presence, signs: Signs, show_id: str) -> None:
    presence.here("s1", show_id, "ears", says("phone1"))

    presence.here("s2", show_id, "ears", says("phone2"))

    assert sorted(one.page for one in signs.of(show_id)) == ["phone1", "phone2"]
