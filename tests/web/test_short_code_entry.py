"""The way in without a camera: a code of eight letters, and how often it may be guessed."""

from collections.abc import Iterator

import pytest

from monreq.domain import commands as c
from monreq.services.short_codes import short_code
from tests.evenings.clock import Chance, Clock, ruled
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

pytestmark = pytest.mark.security

WRONG = "This code opens nothing."


@pytest.fixture(autouse=True)
def _no_time_passes() -> Iterator[None]:
    """What a slow machine takes for a guess is no time in which guesses are given back."""
    with ruled(Clock(), Chance(1)):
        yield


def code(evening: Evening, mix: str = "front") -> str:
    return short_code(evening.monreq.key, evening.show, mix)


def type_in(visitor: Visitor, typed: str, address: str = "198.51.100.7") -> Page:
    page = visitor.get("/")
    fields = page.sent_by(page.button("open my mix"), {"code": typed})
    return Page(visitor.ask("POST", "/", data=fields, environ_base={"REMOTE_ADDR": address}))


def opens(evening: Evening, typed: str, address: str = "198.51.100.7") -> bool:
    visitor = Visitor(evening.monreq.flask)
    answer = type_in(visitor, typed, address)
    return answer.status == 303 and answer.headers["Location"].startswith("/j/")


def test_a_typed_code_leads_to_the_same_question_as_a_scanned_one(
    evening: Evening, stranger: Visitor
) -> None:
    answer = type_in(stranger, code(evening).upper())

    page = stranger.get(answer.headers["Location"])
    assert (answer.status, answer.headers["Location"]) == (303, evening.link("front"))
    assert page.buttons() == ["yes, open my mix"]


@pytest.mark.parametrize("typed", ["aaaa-aaaa", "x", "o0l1-o0l1", "desk"])
def test_a_wrong_code_is_told_in_the_same_words_whatever_is_wrong(stranger: Visitor, typed: str) -> None:
    answer = type_in(stranger, typed)

    (note,) = stranger.get(answer.headers["Location"]).notes
    assert (answer.status, answer.headers["Location"]) == (303, "/")
    assert note.startswith(WRONG)


def test_a_replaced_code_and_that_of_a_closed_show_open_nothing(evening: Evening) -> None:
    old = code(evening)
    evening.do(c.ReplaceCode("front"))
    new = code(evening)

    was_open = opens(evening, new)
    evening.do(c.CloseShow())

    assert was_open
    assert not opens(evening, old)
    assert not opens(evening, new)


def test_the_code_stands_beside_its_mix_at_the_desk_and_nowhere_on_phones(
    evening: Evening, engineer: Visitor, singer: Visitor
) -> None:
    assert code(evening) in engineer.get("/desk/codes").text
    assert code(evening) not in singer.get("/mix/front").source


@pytest.mark.parametrize("addresses", [10, 250])
def test_a_thousand_guesses_are_stopped_and_a_right_code_from_elsewhere_still_opens(
    evening: Evening, stranger: Visitor, addresses: int
) -> None:
    page = stranger.get("/")
    fields = page.sent_by(page.button("open my mix"), {"code": "aaaa-aaaa"})

    statuses = [
        stranger.ask(
            "POST",
            "/",
            data=fields,
            environ_base={"REMOTE_ADDR": f"10.0.0.{n % addresses}"},
        ).status_code
        for n in range(1000)
    ]

    assert statuses.count(303) <= 500
    assert set(statuses) == {303, 429}
    assert not opens(evening, code(evening), "10.0.0.0")
    assert opens(evening, code(evening), "198.51.100.7")


def test_a_phone_with_many_addresses_of_one_ipv6_network_counts_as_one(stranger: Visitor) -> None:
    page = stranger.get("/")
    fields = page.sent_by(page.button("open my mix"), {"code": "aaaa-aaaa"})

    statuses = [
        stranger.ask("POST", "/", data=fields, environ_base={"REMOTE_ADDR": f"2001:db8::{n:x}"}).status_code
        for n in range(30)
    ]

    assert statuses == [303] * 20 + [429] * 10


def test_too_many_wrong_links_are_slowed_down_and_a_right_one_is_not(
    evening: Evening, stranger: Visitor
) -> None:
    statuses = [stranger.get(f"/j/show1.{n:022d}").status for n in range(50)]

    assert statuses == [401] * 40 + [429] * 10
    assert stranger.get(evening.link("front")).status == 200


def test_ipv4_addresses_written_as_ipv6_count_each_for_itself(stranger: Visitor) -> None:
    page = stranger.get("/")
    fields = page.sent_by(page.button("open my mix"), {"code": "aaaa-aaaa"})

    statuses = [
        stranger.ask("POST", "/", data=fields, environ_base={"REMOTE_ADDR": f"::ffff:10.0.0.{n}"}).status_code
        for n in range(30)
    ]

    assert statuses == [303] * 30


def test_who_tried_before_waits_among_those_who_did_and_takes_nothing_from_newcomers(
    stranger: Visitor,
) -> None:
    page = stranger.get("/")
    fields = page.sent_by(page.button("open my mix"), {"code": "aaaa-aaaa"})

    first, second, new = (
        [
            stranger.ask(
                "POST", "/", data=fields, environ_base={"REMOTE_ADDR": f"10.0.{net}.{n}"}
            ).status_code
            for n in range(148)
        ]
        for net in (0, 0, 1)
    )

    assert (set(first), set(second), set(new)) == ({303}, {303, 429}, {303})
