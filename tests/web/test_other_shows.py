"""What a page of one show says is never taken for another's; each page, link and desk stays with its own show."""

from pathlib import Path

import pytest

from monreq.cli.serve import newest_open_show
from monreq.domain import commands as c
from monreq.domain.requests import Outcome
from monreq.services.next_show import begin_next
from tests.support import evening as evenings
from tests.support.api_client import ApiClient
from tests.support.evening import SHOW, Evening
from tests.support.visitor import JSON, Page, Visitor

OTHER = "othr"
COOKIE = f"monreq_{evenings.PORT}"
STALE = "for another show"


@pytest.fixture
def other(evening: Evening) -> Evening:
    """The same line-up on another stage: its requests are counted by the same numbers."""
    shows = evening.monreq.shows
    shows.open(OTHER, c.OpenShow("Other stage"))
    for command in evenings.commands():
        shows.submit(OTHER, command)
    return Evening(evening.monreq, OTHER)


@pytest.fixture
def torn(evening: Evening, other: Evening) -> tuple[Visitor, Page]:
    """A browser that is at the other stage's desk by now, and an older page of the first, where the same ids wait."""
    assert evening.ask("front", "voice", 30, "singer") == other.ask("front", "drums", 10, "singer")
    visitor = Visitor(evening.monreq.flask)
    visitor.scan(evening.link())
    page = visitor.get("/desk")
    visitor.scan(other.link())
    return visitor, page


def test_an_answer_of_an_older_page_is_taken_for_its_own_show(
    evening: Evening, other: Evening, torn: tuple[Visitor, Page]
) -> None:
    visitor, page = torn
    before = other.show

    answer = visitor.press(page, page.button_with("done:row-front-voice-level"))

    assert answer.status == 303
    assert other.show == before
    assert not evening.show.open_requests


def test_an_answer_for_a_show_that_this_browser_has_no_desk_of_is_refused_in_a_sentence(
    evening: Evening, other: Evening, torn: tuple[Visitor, Page]
) -> None:
    _, page = torn
    stranger = Visitor(evening.monreq.flask)
    stranger.scan(other.link())
    own = stranger.get("/desk")
    fields = {**page.sent_by(page.button_with("done:row-front-voice-level")), **_protected(own)}
    before = other.show, evening.show

    answer = stranger.post("/desk", fields, **JSON)

    assert answer.status == 409
    assert STALE in answer.response.get_json()["message"]
    assert (other.show, evening.show) == before


def _protected(page: Page) -> dict[str, str]:
    form = next(page.markup.root.every("form", method="post"))
    return {"csrf_token": page.markup.fields(form)["csrf_token"][0]}


def test_requests_of_another_row_are_refused(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30, "singer")
    drums = evening.ask("front", "drums", 10, "singer")
    page = engineer.get("/desk")
    button = page.button_with("done:row-front-voice-level")
    before = evening.show

    answer = engineer.press(page, button, {"row-front-voice-level-requests": drums}, **JSON)

    assert (answer.status, answer.response.get_json()["error"]) == (422, "requests_of_another_row")
    assert evening.show == before


def test_a_form_that_names_no_show_is_out_of_date(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30, "singer")
    page = engineer.get("/desk")
    fields = dict(page.sent_by(page.button_with("done:row-front-voice-level")))
    del fields["show"]

    answer = engineer.post("/desk", fields, **JSON)

    assert (answer.status, answer.response.get_json()["error"]) == (422, "page_out_of_date")
    assert evening.asked() != []


def test_a_phone_of_both_stages_asks_on_the_stage_that_its_page_is_of(
    evening: Evening, other: Evening
) -> None:
    phone = Visitor(evening.monreq.flask)
    page = phone.scan(evening.link("front"))
    phone.scan(other.link("front"))

    phone.do(page, "more Voice")

    assert evening.asked() == [("front", "voice", "level", 30)]
    assert other.asked() == []


def test_two_desks_in_one_browser_stay_with_their_own_show_and_lead_to_one_another(
    evening: Evening, other: Evening
) -> None:
    desk = Visitor(evening.monreq.flask)
    desk.scan(evening.link())
    desk.scan(other.link())

    newest = desk.get("/desk/prepare")
    (address,) = (one.attrs["href"] for one in newest.markup.root.every("a") if one.text == evening.show.name)
    first = desk.get(address)
    ahead = [
        one.attrs["href"]
        for one in first.markup.root.every("a")
        if one.attrs["href"].startswith("/desk/") and one.text in ("Prepare", "Codes")
    ]

    assert "Other stage" in newest.text
    assert "Evening" in first.place("status")
    assert len(ahead) == 2
    assert all("Evening" in desk.get(one).text for one in ahead)
    renamed = desk.do(desk.get(ahead[0]), "rename", {"name": "Renamed"})
    assert (evening.show.name, other.show.name) == ("Renamed", "Other stage")
    assert "Renamed" in renamed.text


def test_one_desk_alone_has_plain_addresses(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk/prepare")

    assert not [one for one in page.markup.root.every("a") if "show=" in one.attrs["href"]]
    assert "other shows" not in page.text
    assert evening.show.is_open


def test_a_cookie_from_before_there_could_be_several_desks_still_admits(
    evening: Evening, engineer: Visitor
) -> None:
    with engineer.client.session_transaction() as cookie:
        cookie["admissions"] = {"": [SHOW, 0, None], "front": [SHOW, 0, "singer"]}

    assert engineer.get("/desk").status == 200
    engineer.do(engineer.get("/mix/front"), "more Voice")
    assert evening.asked() == [("front", "voice", "level", 30)]


def test_a_link_that_is_scanned_again_opens_its_own_show_though_another_was_opened_since(
    evening: Evening, other: Evening
) -> None:
    browser = Visitor(evening.monreq.flask)
    for link in (evening.link(), other.link(), evening.link("front"), other.link("front")):
        browser.scan(link)

    desk, phone = browser.scan(evening.link()), browser.scan(evening.link("front"))

    assert evening.show.name in desk.place("status")
    browser.do(phone, "more Voice")
    assert (evening.asked(), other.asked()) == ([("front", "voice", "level", 30)], [])


def test_a_program_s_id_of_another_show_is_unknown(evening: Evening, other: Evening) -> None:
    evening.ask("front", "voice", 30, "singer")
    other.ask("front", "drums", 10, "singer")
    here, there = (ApiClient(evening.monreq.flask, one.link().rpartition("/")[2]) for one in (evening, other))
    (row,) = here.get("/queue").json["rows"]
    decision = here.post("/decisions", {"requests": row["requests"], "outcome": "done"}).json["decision"]
    other.do(c.Answer(tuple(other.show.open_requests), Outcome.DONE))
    before = other.show

    refused = [
        there.post("/decisions", {"requests": row["requests"], "outcome": "done"}),
        there.get(f"/requests/{row['requests'][0]}"),
        there.delete(f"/requests/{row['requests'][0]}"),
        there.post(f"/decisions/{decision}/undo"),
    ]

    assert [one.status for one in refused] == [404] * 4
    assert other.show == before


def test_the_next_show_is_one_whoever_presses_and_however_often(evening: Evening) -> None:
    desks = [Visitor(evening.monreq.flask) for _ in range(2)]
    for desk in desks:
        desk.scan(evening.link())
    pages = [desk.get("/desk/prepare") for desk in desks]
    words = "close this show and begin the next"
    cookie = desks[0].client.get_cookie(COOKIE)
    assert cookie is not None

    first = desks[0].press(pages[0], words)
    desks[0].client.set_cookie(COOKIE, cookie.value)  # the answer that brought another got lost
    again = desks[0].press(pages[0], words)
    second = desks[1].press(pages[1], words)

    assert [one.headers.get("Location") for one in (first, again, second)] == ["/desk/prepare"] * 3
    assert [entry.is_open for entry in evening.monreq.shows.entries()] == [False, True]
    assert "New show" in desks[0].get("/desk/prepare").text
    assert "New show" in desks[1].get("/desk/prepare").text


def test_two_workers_that_find_no_show_begin_the_same_one(tmp_path: Path) -> None:
    workers = [evenings.start(tmp_path / "data") for _ in range(2)]
    try:
        begun = [begin_next(one.shows, one.show_id) for one in workers]
        opened = [newest_open_show(one).id for one in workers]
    finally:
        for one in workers:
            one.close()

    assert len({one.id for one in begun} | set(opened)) == 1


def test_after_the_last_show_was_closed_each_start_begins_one(tmp_path: Path) -> None:
    monreq = evenings.start(tmp_path / "data")
    try:
        shows = [newest_open_show(monreq)]
        for _ in range(2):
            monreq.shows.submit(shows[-1].id, c.CloseShow())
            shows.append(newest_open_show(monreq))
    finally:
        monreq.close()

    assert len({one.id for one in shows}) == 3
