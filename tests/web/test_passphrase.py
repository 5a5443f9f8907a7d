"""The desk's passphrase over the pages: set, tried, changed, taken away."""

import pytest

from monreq.domain import commands as c
from monreq.web.passphrase import PASSPHRASE
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

pytestmark = pytest.mark.security

GOOD = "violet kettle on the moon"
BETTER = "nine slow trains to nowhere"


def set_to(engineer: Visitor, words: str) -> Page:
    page = engineer.get("/desk/codes")
    (button,) = (one for one in page.markup.buttons() if page.target(one.form).endswith("/codes/passphrase"))
    return engineer.do(page, button, {"passphrase": words})


def enter(visitor: Visitor, words: str, address: str = "198.51.100.7") -> Page:
    page = visitor.get("/desk/enter")
    fields = page.sent_by(page.button("open the desk"), {"passphrase": words})
    return Page(visitor.ask("POST", "/desk/enter", data=fields, environ_base={"REMOTE_ADDR": address}))


def test_the_passphrase_opens_the_newest_shows_desk_on_another_device(
    evening: Evening, engineer: Visitor, stranger: Visitor
) -> None:
    set_to(engineer, GOOD)

    answer = enter(stranger, GOOD)

    assert (answer.status, answer.headers["Location"]) == (303, "/desk")
    assert stranger.get("/desk").status == 200
    assert evening.show.generation(None) == 0


def test_what_is_stored_is_a_hash(evening: Evening, engineer: Visitor) -> None:
    set_to(engineer, GOOD)

    kept = evening.monreq.settings.get(PASSPHRASE) or ""
    assert kept.startswith("$argon2id$")
    assert GOOD not in engineer.get("/desk/codes").source


@pytest.mark.parametrize("words", ["wrong words entirely", GOOD.upper(), "x", "x" * 900])
@pytest.mark.parametrize("before", [GOOD, ""])
def test_what_is_wrong_opens_nothing_and_is_told_in_one_way(
    engineer: Visitor, stranger: Visitor, words: str, before: str
) -> None:
    if before:
        set_to(engineer, before)

    answer = enter(stranger, words)

    (note,) = stranger.get(answer.headers["Location"]).notes
    assert (answer.status, answer.headers["Location"]) == (303, "/desk/enter")
    assert note.startswith("This does not open the desk.")
    assert stranger.get("/desk").status == 401


@pytest.mark.parametrize("words", ["short", "password123"])
def test_weak_words_are_not_set(evening: Evening, engineer: Visitor, words: str) -> None:
    page = set_to(engineer, words)

    assert len(page.notes) == 1
    assert not evening.monreq.settings.get(PASSPHRASE)


@pytest.mark.parametrize("way", ["changed", "removed"])
def test_changing_or_removing_it_puts_out_who_came_by_it_and_not_who_did_it(
    evening: Evening, engineer: Visitor, stranger: Visitor, way: str
) -> None:
    set_to(engineer, GOOD)
    enter(stranger, GOOD)
    was_in = stranger.get("/desk").status

    if way == "changed":
        set_to(engineer, BETTER)
    else:
        engineer.do(engineer.get("/desk/codes"), "remove the passphrase")

    assert (was_in, stranger.get("/desk").status) == (200, 410)
    assert engineer.get("/desk").status == 200
    assert enter(Visitor(evening.monreq.flask), GOOD).headers["Location"] == "/desk/enter"


def test_it_opens_no_desk_of_a_closed_show(evening: Evening, engineer: Visitor, stranger: Visitor) -> None:
    set_to(engineer, GOOD)
    evening.do(c.CloseShow())

    assert enter(stranger, GOOD).headers["Location"] == "/desk/enter"


def test_changing_it_puts_out_the_desks_of_closed_shows_too(evening: Evening, engineer: Visitor) -> None:
    set_to(engineer, GOOD)
    evening.do(c.CloseShow())

    set_to(engineer, BETTER)

    assert evening.show.generation(None) == 1


def test_guesses_are_stopped_and_neither_the_link_nor_a_right_one_from_elsewhere_is(
    evening: Evening, engineer: Visitor, stranger: Visitor
) -> None:
    set_to(engineer, GOOD)
    page = stranger.get("/desk/enter")
    fields = page.sent_by(page.button("open the desk"), {"passphrase": "guessed again"})

    statuses = [
        stranger.ask(
            "POST", "/desk/enter", data=fields, environ_base={"REMOTE_ADDR": f"10.0.0.{n % 20}"}
        ).status_code
        for n in range(300)
    ]

    assert set(statuses) == {303, 429}
    assert statuses.count(303) < 100
    assert enter(Visitor(evening.monreq.flask), GOOD, "10.0.0.1").status == 429
    assert enter(Visitor(evening.monreq.flask), GOOD).headers["Location"] == "/desk"
    assert Visitor(evening.monreq.flask).scan(evening.link()).path == "/desk"
