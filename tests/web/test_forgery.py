"""Forms that another site or browser sends: whatever changes something wants its token."""

import pytest
from flask import Flask
from werkzeug.routing import Rule

from tests.support.doors import DESK
from tests.support.evening import Evening
from tests.support.routes import address
from tests.support.visitor import JSON, Visitor


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


@pytest.mark.security
@pytest.mark.parametrize(
    "origin", ["http://evil.example", "http://localhost:1", "https://localhost", "null", ""]
)
def test_whatever_changes_something_is_refused_to_another_sites_page_even_with_all_tokens(
    evening: Evening, origin: str
) -> None:
    evening.ask("front", "voice", 30)
    here = DESK.comes(evening)
    rules = [
        (method, rule)
        for rule in evening.monreq.flask.url_map.iter_rules()
        for method in sorted((rule.methods or set()) - {"GET", "HEAD", "OPTIONS"})
    ]
    before, shows = evening.show, evening.monreq.shows.entries()

    answers = {
        (method, rule.rule): here.client.open(
            address(evening, rule),
            method=method,
            data={"csrf_token": here.csrf, "client_id": "x", "name": "Forged"},
            headers={**here.bearer, "Origin": origin},
        ).status_code
        for method, rule in rules
    }

    assert len(answers) > 30
    assert answers == dict.fromkeys(answers, 403)
    assert evening.show == before
    assert evening.monreq.shows.entries() == shows
