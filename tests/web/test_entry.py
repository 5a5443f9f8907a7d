"""The way in: what a scanned code shows, admits and leaves behind."""

import re
from pathlib import Path

import pytest
from flask import Flask
from werkzeug.routing import Rule

from monreq.domain import commands as c
from tests.support import evening as evenings
from tests.support.evening import Evening
from tests.support.routes import address
from tests.support.visitor import JSON, Visitor

FORGED = "show1-front.AAAAAAAAAAAAAAAAAAAAAA"


def token(link: str) -> str:
    return link.rpartition("/")[2]


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


@pytest.mark.security
@pytest.mark.parametrize("mix", ["front", None])
def test_token_is_nowhere_once_it_was_exchanged(evening: Evening, stranger: Visitor, mix: str | None) -> None:
    secret = token(evening.link(mix))
    mac = secret.partition(".")[2]
    page = stranger.get(evening.link(mix))

    answer = stranger.press(page, page.buttons()[0])

    home = stranger.get(answer.headers["Location"])
    cookies = [answer.headers.get("Set-Cookie", "")]
    assert mac not in answer.headers["Location"] + answer.source + "".join(cookies)
    assert mac not in home.source
    assert mac not in stranger.get(f"{home.path}/places").response.text


@pytest.mark.security
def test_phone_pages_hold_no_token_of_any_kind(evening: Evening, singer: Visitor) -> None:
    macs = [token(evening.link(mix)).partition(".")[2] for mix in (None, "front", "ears", "side")]

    text = singer.get("/mix/front").source + singer.get("/mix/front/places").response.text

    assert [mac for mac in macs if mac in text] == []


@pytest.mark.security
@pytest.mark.parametrize("mix", ["front", None])
def test_replaced_code_is_told_so(evening: Evening, stranger: Visitor, mix: str | None) -> None:
    old = evening.link(mix)
    stranger.scan(old)
    home = "/desk" if mix is None else f"/mix/{mix}"
    evening.do(c.ReplaceCode(mix))

    answers = [stranger.get(old), stranger.get(home), stranger.get(f"{home}/places"), stranger.post(old, {})]

    assert [answer.status for answer in answers[:3]] == [410, 410, 410]
    assert answers[3].status in (400, 410)
    assert "This code was replaced." in answers[0].text
    assert "This code was replaced." in answers[1].text


@pytest.mark.security
def test_replaced_code_takes_no_request(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    evening.do(c.ReplaceCode("front"))

    answer = singer.press(page, "more Voice")

    assert answer.status == 410
    assert evening.asked() == []


def test_new_code_asks_once_more_and_admits_again(evening: Evening, singer: Visitor) -> None:
    evening.do(c.ReplaceCode("front"))

    page = singer.scan(evening.link("front"))

    assert (page.status, page.path) == (200, "/mix/front")


@pytest.mark.security
@pytest.mark.parametrize(
    "unknown", [FORGED, "show1.AAAAAAAAAAAAAAAAAAAAAA", "nowhere.AAAAAAAAAAAAAAAAAAAAAA", "x", "show1-front."]
)
def test_unknown_code_is_refused_in_words(evening: Evening, stranger: Visitor, unknown: str) -> None:
    page = stranger.get(f"/j/{unknown}")

    assert page.status == 401
    assert "This code is not known here." in page.text
    assert evening.show.name not in page.text


@pytest.mark.security
def test_a_code_of_another_installation_is_unknown(stranger: Visitor, tmp_path: Path) -> None:
    other = evenings.start(tmp_path / "other")
    evenings.set_up(other)
    link = other.link(other.shows.state(evenings.SHOW), "front", "")
    other.close()

    assert stranger.get(link).status == 401


@pytest.mark.security
def test_somebody_elses_mix_is_refused(evening: Evening, singer: Visitor) -> None:
    page = singer.get("/mix/front")
    fields = page.sent_by(page.button("more Voice"))

    statuses = [
        singer.get("/mix/side").status,
        singer.get("/mix/side/places").status,
        singer.post("/mix/side", fields).status,
        singer.get("/mix/ears/who").status,
        singer.get("/desk").status,
        singer.get("/desk/mix/front").status,
    ]

    assert statuses == [401] * 6
    assert evening.asked() == []


@pytest.mark.security
def test_an_unknown_mix_looks_like_somebody_elses(singer: Visitor) -> None:
    theirs, nobodys = singer.get("/mix/side"), singer.get("/mix/nothere")

    assert (theirs.status, theirs.text) == (nobodys.status, nobodys.text)


def test_several_admissions_live_in_one_cookie(evening: Evening, stranger: Visitor) -> None:
    stranger.scan(evening.link())
    stranger.scan(evening.link("front"))
    stranger.scan(evening.link("ears"), lambda _: "Bo")

    stranger.do(stranger.get("/mix/front"), "more Voice")
    stranger.do(stranger.get("/mix/ears"), "less Drums")

    asked = {(one.musician, one.key.mix) for one in evening.show.open_requests.values()}
    assert asked == {("singer", "front"), ("bass", "ears")}
    assert stranger.get("/desk").status == 200
    assert stranger.get("/mix/side").status == 401


@pytest.mark.security
def test_cookie_is_out_of_reach_of_scripts_and_foreign_pages(evening: Evening, stranger: Visitor) -> None:
    page = stranger.get(evening.link("front"))

    (cookie,) = stranger.press(page, page.buttons()[0]).headers.getlist("Set-Cookie")

    parts = {part.strip().partition("=")[0] for part in cookie.split(";")}
    assert cookie.startswith(f"monreq_{evenings.PORT}=")
    assert {"HttpOnly", "SameSite", "Expires"} <= parts
    assert "SameSite=Lax" in cookie
    assert "Secure" not in parts


@pytest.mark.security
def test_a_tampered_cookie_admits_nobody(evening: Evening, singer: Visitor) -> None:
    name = f"monreq_{evenings.PORT}"
    cookie = singer.client.get_cookie(name)
    assert cookie is not None
    payload, _, signature = cookie.value.partition(".")
    singer.client.set_cookie(name, f"{payload[:-2]}AA.{signature}")

    assert singer.get("/mix/front").status == 401
    assert evening.asked() == []


def test_front_page_leads_those_who_were_admitted_to_their_place(
    stranger: Visitor, singer: Visitor, engineer: Visitor
) -> None:
    assert "Scan the code" in stranger.get("/").text
    assert singer.get("/").headers["Location"] == "/mix/front"
    assert engineer.get("/").headers["Location"] == "/desk"


def unsafe_rules(app: Flask) -> list[tuple[str, Rule]]:
    """Every way to change something: all that is not read, apart from the JSON interface, which has no cookie."""
    return [
        (method, rule)
        for rule in app.url_map.iter_rules()
        if not rule.rule.startswith("/api/v1/")
        for method in sorted(rule.methods or ())
        if method not in ("GET", "HEAD", "OPTIONS")
    ]


@pytest.mark.security
def test_whatever_changes_something_wants_the_token_against_forgery(
    evening: Evening, engineer: Visitor
) -> None:
    engineer.scan(evening.link("front"))
    request = evening.ask("front", "voice", 30)
    rules = unsafe_rules(evening.monreq.flask)
    fields = {
        "client_id": "forged",
        "do": "more:voice",
        "amount": "some",
        "name": "Forged",
        "row-front-voice-level-requests": request,
    }
    before, shows = evening.show, evening.monreq.shows.entries()

    answers = {
        (method, rule.rule): engineer.client.open(address(evening, rule), method=method, data=fields)
        for method, rule in rules
    }

    assert len(rules) >= 19
    assert {way: answer.status_code for way, answer in answers.items()} == dict.fromkeys(answers, 400)
    assert evening.show == before
    assert evening.monreq.shows.entries() == shows
    assert evening.monreq.settings.get("wifi_network") is None


@pytest.mark.security
def test_a_forged_form_is_told_to_scripts_as_such(singer: Visitor) -> None:
    answer = singer.post("/mix/front", {"client_id": "x", "do": "more:voice"}, **JSON)

    assert (answer.status, answer.response.json["error"]) == (400, "csrf")  # type: ignore[index]


@pytest.mark.security
def test_the_token_of_another_browser_does_not_count(
    evening: Evening, singer: Visitor, stranger: Visitor
) -> None:
    theirs = stranger.get(evening.link("side"))
    stolen = theirs.sent_by(theirs.markup.buttons()[0])["csrf_token"]
    page = singer.get("/mix/front")
    fields = page.sent_by(page.button("more Voice"))

    answer = singer.post("/mix/front", {**fields, "csrf_token": stolen})

    assert answer.status == 400
    assert evening.asked() == []
