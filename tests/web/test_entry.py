"""The way in: what a scanned code shows, asks, and admits to."""

import re

import pytest

from monreq.domain import commands as c
from tests.support.evening import Evening
from tests.support.visitor import Visitor


def headings(text: str) -> list[str]:
    return re.findall(r"<h1[^>]*>(.*?)</h1>", text, re.DOTALL)


def test_scan_says_whose_code_it_is_and_asks_for_a_yes(evening: Evening, stranger: Visitor) -> None:
    page = stranger.get(evening.link("front"))

    assert page.status == 200
    assert headings(page.source) == ["You are: Front wedge"]
    assert "Ada" in page.text
    assert "Not you?" in page.text
    assert len(page.buttons()) == 1


@pytest.mark.parametrize("method", ["GET", "HEAD"])
def test_looking_at_a_code_admits_nobody_and_stores_nothing(
    evening: Evening, stranger: Visitor, method: str
) -> None:
    before = evening.show

    answers = [stranger.client.open(evening.link(mix), method=method) for mix in ("front", None)]

    assert [answer.status_code for answer in answers] == [200, 200]
    assert evening.show == before
    assert stranger.get("/mix/front").status == 401
    assert stranger.get("/desk").status == 401


def test_confirming_leads_to_a_clean_address(evening: Evening, stranger: Visitor) -> None:
    page = stranger.get(evening.link("front"))

    answer = stranger.press(page, page.buttons()[0])

    assert (answer.status, answer.headers["Location"]) == (303, "/mix/front")
    assert "Front wedge" in stranger.get("/mix/front").text


def test_desk_link_opens_the_desk(evening: Evening, stranger: Visitor) -> None:
    page = stranger.get(evening.link())

    answer = stranger.press(page, page.buttons()[0])

    assert headings(page.source) == ["This opens the desk."]
    assert (answer.status, answer.headers["Location"]) == (303, "/desk")
    assert stranger.get("/desk").place("queue") == "Nothing waits."


@pytest.mark.parametrize("mix", ["front", None])
def test_second_scan_goes_straight_through(evening: Evening, stranger: Visitor, mix: str | None) -> None:
    first = stranger.scan(evening.link(mix))

    again = stranger.get(evening.link(mix))

    assert (again.status, again.headers["Location"]) == (303, first.path)


def test_shared_mix_asks_who_and_remembers(evening: Evening, stranger: Visitor) -> None:
    page = stranger.get(evening.link("ears"))
    buttons = page.buttons()

    mix = stranger.do(page, "Cy")
    stranger.do(mix, "more Drums")

    assert headings(page.source) == ["Who are you?"]
    assert buttons == ["Bo", "Cy"]
    assert [one.musician for one in evening.show.open_requests.values()] == ["drummer"]


def test_shared_mix_without_a_choice_asks_again(evening: Evening, stranger: Visitor) -> None:
    page = stranger.get(evening.link("ears"))
    fields = page.sent_by(page.button("Bo"))

    answer = stranger.post(page.path, {"csrf_token": fields["csrf_token"]})

    assert (answer.status, answer.headers["Location"]) == (303, evening.link("ears"))
    assert stranger.get("/mix/ears").status == 401


def test_a_choice_of_somebody_elsewhere_is_refused(evening: Evening, stranger: Visitor) -> None:
    page = stranger.get(evening.link("ears"))
    fields = page.sent_by(page.button("Bo"))

    answer = stranger.post(page.path, {**fields, "musician": "singer"})

    assert answer.status == 422
    assert stranger.get("/mix/ears").status == 401


def test_shared_mix_lets_another_take_the_phone_over(evening: Evening, bassist: Visitor) -> None:
    page = bassist.get("/mix/ears")
    (link,) = (one for one in page.markup.root.every("a") if one.text == "Not you?")
    who = bassist.get(link.attrs["href"])

    mix = bassist.do(who, "Cy")
    bassist.do(mix, "more Drums")

    assert [one.musician for one in evening.show.open_requests.values()] == ["drummer"]


def test_a_musician_who_left_the_mix_is_not_asked_for_any_more(evening: Evening, singer: Visitor) -> None:
    mix = evening.show.mix("front")
    evening.do(c.PutMix(type(mix)(mix.id, mix.name, mix.output, ("guest",))))

    singer.do(singer.scan(evening.link("front")), "more Voice")

    assert [one.musician for one in evening.show.open_requests.values()] == ["guest"]


def test_front_page_leads_those_who_were_admitted_to_their_place(
    stranger: Visitor, singer: Visitor, engineer: Visitor
) -> None:
    assert "Scan the code" in stranger.get("/").text
    assert singer.get("/").headers["Location"] == "/mix/front"
    assert engineer.get("/").headers["Location"] == "/desk"
