"""The announcer: what is pushed to whom, with which revisions, and what a fault does."""

import logging
from typing import Any

import pytest
from flask_socketio import SocketIOTestClient

from monreq.domain import commands as c
from monreq.domain.requests import Outcome
from monreq.domain.setup import Mix, Output
from monreq.domain.show import Show
from monreq.domain.time_passing import next_change_ms
from tests.support.live import SHOW, LiveHouse
from tests.support.threads import wait_until


@pytest.fixture
def house() -> LiveHouse:
    return LiveHouse()


def listen(house: LiveHouse, subject: str) -> SocketIOTestClient:
    namespace = "/desk" if subject == "desk" else "/phone"
    client = house.socketio.test_client(house.app, namespace=namespace, auth={"token": f"{subject}@0"})
    assert client.is_connected(namespace)
    client.get_received(namespace)
    return client


def heard(client: SocketIOTestClient, namespace: str) -> list[dict[str, Any]]:
    received = client.get_received(namespace)
    assert all(one["name"] == "changed" for one in received)
    return [one["args"][0] for one in received]


def test_announcer_tells_the_desk_what_a_commit_changed(house: LiveHouse) -> None:
    desk = listen(house, "desk")
    before = house.shows.state(SHOW)
    house.ask("front", client_id="a")

    house.announcer.announce_waiting()

    assert heard(desk, "/desk") == [
        {
            "revision": before.revision + 1,
            "as_of": house.shows.state(SHOW).at_ms,
            "after": before.revision,
            "after_as_of": before.at_ms,
            "client_ids": ["a"],
            "fragments": {"queue": "1 waiting"},
        }
    ]


def test_announcer_tells_a_mix_of_its_own_requests_alone(house: LiveHouse) -> None:
    front, ears = listen(house, "front"), listen(house, "ears")
    house.ask("front", client_id="a")
    house.ask("ears", client_id="b")
    house.announcer.announce_waiting()

    (to_front,), (to_ears,) = heard(front, "/phone"), heard(ears, "/phone")

    assert (to_front["client_ids"], to_front["fragments"]) == (["a"], {"front": "1 waiting"})
    assert (to_ears["client_ids"], to_ears["fragments"]) == (["b"], {"ears": "1 waiting"})


def test_announcer_is_silent_to_a_mix_that_shows_nothing_new(house: LiveHouse) -> None:
    ears, _, _ = (listen(house, subject) for subject in ("ears", "front", "desk"))
    house.ask("front")

    house.announcer.announce_waiting()

    assert heard(ears, "/phone") == []
    assert [room for room, _, _ in house.drawn] == ["desk", "front"]


def test_announcer_joins_what_waits_into_one_push_that_reaches_back_to_the_first(house: LiveHouse) -> None:
    desk, front = listen(house, "desk"), listen(house, "front")
    before = house.shows.state(SHOW)
    house.ask("front")
    house.ask("ears")
    last = house.ask("front")
    after_ears = house.ask("ears")
    house.announcer.announce_waiting()

    (to_desk,), (to_front,) = heard(desk, "/desk"), heard(front, "/phone")

    assert (to_desk["after"], to_desk["revision"]) == (before.revision, after_ears)
    assert (to_front["after"], to_front["revision"]) == (before.changed_at["front"], last)


def test_announcer_pushes_follow_one_another_without_a_gap(house: LiveHouse) -> None:
    front = listen(house, "front")
    for mix in ("front", "ears", "front"):
        house.ask(mix)
        house.announcer.announce_waiting()

    first, second = heard(front, "/phone")

    assert second["after"] == first["revision"]


def test_announcer_tells_nobody_of_a_new_mix_but_the_desk(house: LiveHouse) -> None:
    desk, front = listen(house, "desk"), listen(house, "front")
    house.do(c.PutMix(Mix("horns", "Horns", Output.WEDGE, ())))

    house.announcer.announce_waiting()

    assert len(heard(desk, "/desk")) == 1
    assert heard(front, "/phone") == []


def test_announcer_cuts_a_removed_mix(house: LiveHouse) -> None:
    front = listen(house, "front")
    house.do(c.RemoveMix("front"))

    house.announcer.announce_waiting()

    assert not front.is_connected("/phone")


def test_announcer_cuts_a_replaced_code_and_no_other(house: LiveHouse) -> None:
    front, ears = listen(house, "front"), listen(house, "ears")
    house.ask("front")
    house.do(c.ReplaceCode("front"))

    house.announcer.announce_waiting()

    assert not front.is_connected("/phone")
    assert ears.is_connected("/phone")


def test_announcer_cuts_a_replaced_desk_and_no_phone(house: LiveHouse) -> None:
    desk, front = listen(house, "desk"), listen(house, "front")
    house.do(c.ReplaceCode(None))

    house.announcer.announce_waiting()

    assert not desk.is_connected("/desk")
    assert front.is_connected("/phone")


def test_announcer_notes_a_fault_once_and_tells_the_next_change(
    house: LiveHouse, caplog: pytest.LogCaptureFixture
) -> None:
    desk = listen(house, "desk")
    house.fault = ValueError("cannot be drawn")
    for mix in ("front", "ears"):
        house.ask(mix)
        house.announcer.announce_waiting()
    house.fault = None
    last = house.ask("front")
    house.announcer.announce_waiting()

    (push,) = heard(desk, "/desk")

    assert (push["after"], push["revision"]) == (last - 1, last)
    assert [record.levelno for record in caplog.records] == [logging.ERROR]


def raised_and_asked_again(house: LiveHouse) -> Show:
    """Let a wedge have been raised, and somebody wait for more; all of it was announced."""
    house.ask("front")
    (request,) = house.shows.state(SHOW).open_requests
    house.do(c.Answer((request,), Outcome.DONE))
    house.ask("front")
    house.announcer.announce_waiting()
    return house.shows.state(SHOW)


def test_announcer_tells_the_desk_without_an_event_what_time_alone_changed(house: LiveHouse) -> None:
    desk, front = listen(house, "desk"), listen(house, "front")
    show = raised_and_asked_again(house)
    for client, namespace in ((desk, "/desk"), (front, "/phone")):
        heard(client, namespace)
    house.announcer.tell_time()
    too_early = heard(desk, "/desk")

    house.wait(30)
    house.announcer.tell_time()
    (push,) = heard(desk, "/desk")
    house.announcer.tell_time()

    assert too_early == []
    assert (push["after"], push["revision"]) == (show.revision, show.revision)
    assert (push["after_as_of"], push["as_of"]) == (show.at_ms, next_change_ms(show))
    assert heard(desk, "/desk") == heard(front, "/phone") == []
    assert house.shows.state(SHOW).revision == show.revision


def test_announcer_goes_on_from_what_time_alone_changed(house: LiveHouse) -> None:
    desk = listen(house, "desk")
    raised_and_asked_again(house)
    house.wait(30)
    house.announcer.tell_time()
    told = heard(desk, "/desk")[-1]
    house.ask("ears")

    house.announcer.announce_waiting()

    (push,) = heard(desk, "/desk")
    assert (push["after"], push["after_as_of"]) == (told["revision"], told["as_of"])


def test_announcer_tells_an_event_together_with_what_time_changed_before_it(house: LiveHouse) -> None:
    desk = listen(house, "desk")
    show = raised_and_asked_again(house)
    heard(desk, "/desk")
    house.wait(30)
    house.ask("ears")

    house.announcer.tell_time()

    (push,) = heard(desk, "/desk")
    assert (push["after"], push["after_as_of"]) == (show.revision, show.at_ms)
    assert (push["revision"], push["as_of"]) == (show.revision + 1, house.shows.state(SHOW).at_ms)


def test_announcer_in_the_background_announces_what_it_is_told_and_ends(house: LiveHouse) -> None:
    listen(house, "front")
    house.announcer.start()
    revision = house.ask("front")

    wait_until(lambda: ("front", revision - 1, revision) in house.drawn)
    house.announcer.stop()
    late = house.ask("ears")

    assert all(after != late for _, _, after in house.drawn)


def test_announcer_told_to_stop_announces_first_what_was_committed(house: LiveHouse) -> None:
    listen(house, "front")
    revision = house.ask("front")

    house.announcer.start()
    house.announcer.stop()

    assert ("front", revision - 1, revision) in house.drawn


def test_announcer_draws_once_for_each_language_in_use_and_for_no_other(house: LiveHouse) -> None:
    clients = [
        house.socketio.test_client(house.app, namespace="/phone", auth={"token": "front@0", "language": code})
        for code in ("ja", "de", "de")
    ]
    house.ask("front")

    house.announcer.announce_waiting()

    assert house.said == ["de", "ja"]
    assert [len(heard_changes(client)) for client in clients] == [1, 1, 1]


def heard_changes(client: SocketIOTestClient) -> list[object]:
    return [one for one in client.get_received("/phone") if one["name"] == "changed"]
