"""Whatever is posted, sent twice under one id, is done once and answered the same: every route, found in the app's own map."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from io import BytesIO
from typing import Any

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from monreq.web import pages
from monreq.web.access import token_of
from tests.support.evening import SHOW, Evening
from tests.support.routes import address, rules
from tests.support.sendings import Sending, sendings
from tests.support.stocked import Stocked, everybody, unmarked
from tests.support.visitor import Visitor
from tests.support.web_app import told_by_api

Fields = Mapping[str, str | Sequence[str]]

COOKIE_ALONE = {
    "colours.choose_colours",
    "desks.name_this_desk",
    "entry.confirm",
    "entry.read_short_code",
    "languages.choose_language",
    "passphrase.enter",
    "phone.say_who",
    "tablet.confirm",
    "tablet.pick",
}
"""They change what this browser is, and nothing that is stored."""

AT_THE_FRONT_DOOR = {"entry.read_short_code"}
"""Whoever was let in already does not see it."""

BEFORE_SOUNDCHECK = {
    *("book_opening.take_over", "book_opening.show_report", "start_mixes.start_with_own_forward"),
}
"""They plan levels, which the soundcheck mark ends."""

ASKS_FOR_A_PAGE = {"book_opening.ask_levels", "book_opening.ask_matches_again", "book_opening.show_report"}
"""They post because what they say is long, and change nothing."""

TYPED: Mapping[str, Fields] = {
    "afterwards.keep_proposed": {"mixes": ["front"], "name": "As it lasted"},
    "bands.rename_band": {"name": "Ours otherwise"},
    "codes.set_wifi": {"network": "Stage", "password": "long enough"},
    "desk.answer": {"do": "done:row-front-drums-level"},
    "desk_auxes.describe_desk": {"mono": "8", "stereo": "2"},
    "desk_auxes.take_numbers": {"numbers": "front:5"},
    "exposure.choose_rule": {"rule": "osha"},
    "exposure.measure": {"level": "94", "how": "at_the_ear", "field": "converted"},
    "groups.put_group": {"name": "All of it", "sources": ["drums", "guitar"]},
    "keeping.brought_back": {"do": "all", "lines": ["voice:-90:0:1"]},
    "keeping.keep": {"mixes": ["front"], "name": "Once more"},
    "keeping.rename_kept": {"name": "Otherwise"},
    "levels.ask_for_somebody": {"musician": "singer", "source": "voice", "change": "+3"},
    "levels.enter_levels": {"voice-level": "-5"},
    "lists.paste_chairs": {"lines": "Tuba: Tom"},
    "lists.paste_sources": {"lines": "Kazoo\nVoice"},
    "measuring.count_open_mics": {"open_mics": "5"},
    "measuring.make_stale": {"because": "a wedge was moved"},
    "measuring.plan_preamp": {"source": "voice", "change": "+3"},
    "measuring.read_margin": {"source": "voice", "margin": "9", "open_mics": "3"},
    "note_texts.change_texts": {"texts": "Two minutes"},
    "phone.ask": {"do": "more:voice"},
    "prepare.put_mix": {"name": "Front otherwise"},
    "prepare.put_musician": {"name": "Ada otherwise"},
    "prepare.put_source": {"name": "Voice otherwise"},
    "prepare.rename_show": {"name": "Another name"},
    "show_settings.change_settings": {"touch_tenths": "1.5"},
    "songs.put_set_list": {"lines": "One\nTwo"},
    "stage.place_on_stage": {"musician-guest-x": "1", "musician-guest-y": "2", "musician-guest-facing": "0"},
    "passphrase.set_passphrase": {"passphrase": "a horse on the stage"},
}
"""What is typed or pressed where a form as it stands would change nothing."""

NO_FORM: Mapping[str, str] = {"levels.take_off_list": "/desk/mix/front/unlist/guitar"}
"""No page offers these; they are sent what any button sends."""

BODIES: Mapping[str, Mapping[str, Any]] = {
    "api.post_request": {"kind": "level", "source": "voice", "change_db": 3, "musician": "singer"},
    "api.post_heard": {
        "musician": "singer",
        "decision": "",
        "heard": "too_little",
    },
    "api.post_decision": {"requests": [], "outcome": "done"},
    "api.post_undo": {},
    "api.post_correction": {"source": "voice", "level_db": -3},
    "api.post_soundcheck_mark": {},
}


@pytest.fixture
def stocked(evening: Evening) -> Stocked:
    return Stocked(evening)


def routes() -> list[str]:
    """Return every route that takes what is posted."""
    app = Flask("routes")
    pages.init_app(app)
    return sorted(rule.endpoint for rule in app.url_map.iter_rules() if "POST" in (rule.methods or ()))


def sent_to(stocked: Stocked, visitor: Visitor, endpoint: str) -> Sending:
    """Return what to send to a route, so that it does something."""
    if endpoint in NO_FORM:
        button = next(sendings(stocked, visitor, "prepare.begin_next_show"))
        return replace(button, action=NO_FORM[endpoint])
    first, chosen = None, None
    for one in sendings(stocked, visitor, endpoint):
        first = first or one
        if ABOUT.get(endpoint, "") in _named(one.action, stocked):
            chosen = one
            break
    assert first is not None, f"no page has a form for {endpoint}: say here what it is sent"
    chosen = chosen or first
    fields = {**chosen.fields, **TYPED.get(endpoint, {})}
    if endpoint == "books.bring":
        fields["book"] = book_of(stocked, visitor)
    return replace(chosen, fields=fields)


def _named(action: str, stocked: Stocked) -> str:
    return action.replace(stocked.band.id, "OURS").replace(stocked.other.id, "THEIRS")


ABOUT: Mapping[str, str] = {
    "bands.choose_band": "THEIRS",
    "bands.remove_band": "THEIRS",
    "book_opening.take_over": "THEIRS",
    "book_merging.merge_both": "OURS/merge/THEIRS",
    "prepare.move_source_up": "drums",
    "prepare.put_mix": "front",
    "prepare.put_musician": "guest",
    "prepare.put_source": "guitar",
    "prepare.remove_source": "guitar",
}
"""Which of several forms is sent, by a part of its address."""


def book_of(stocked: Stocked, visitor: Visitor) -> bytes:
    book = visitor.ask("GET", f"/desk/books/{stocked.other.id}/file").get_data()
    return book.replace(stocked.other.id.encode(), b"another1").replace(b"Theirs", b"Never seen")


def told(answer: TestResponse) -> object:
    return answer.status_code, answer.headers.get("Location"), answer.get_json(silent=True)


@pytest.mark.parametrize("endpoint", [one for one in routes() if not one.startswith("api.")])
def test_a_form_sent_twice_is_done_once_and_answered_the_same(evening: Evening, endpoint: str) -> None:
    stocked = unmarked(evening) if endpoint in BEFORE_SOUNDCHECK else Stocked(evening)
    visitor = everybody(stocked) if endpoint not in AT_THE_FRONT_DOOR else Visitor(stocked.monreq.flask)
    sending = sent_to(stocked, visitor, endpoint)
    before = stocked.stored()

    def send() -> TestResponse:
        fields = {
            name: (BytesIO(value), "band.json") if isinstance(value, bytes) else value
            for name, value in sending.fields.items()
        }
        return visitor.ask("POST", sending.action, data=fields)

    first, after = send(), stocked.stored()
    second = send()

    assert first.status_code in (200, 303), first.text
    assert told(second) == told(first)
    assert stocked.stored() == after
    assert (after == before) is (endpoint in {*COOKIE_ALONE, *ASKS_FOR_A_PAGE})


@pytest.mark.parametrize("endpoint", [one for one in routes() if one.startswith("api.")])
def test_a_call_sent_twice_is_done_once_and_answered_the_same(stocked: Stocked, endpoint: str) -> None:
    rule = next(rule for _, rule in rules(stocked, "POST") if rule.endpoint == endpoint)
    path = address(stocked, rule, decision=told_by_api(SHOW, stocked.decision))
    said = {"client_id": "once", **BODIES[endpoint]}
    for name, kind in (("decision", stocked.decision), ("requests", [stocked.request])):
        if name in said:
            said[name] = (
                told_by_api(SHOW, kind) if isinstance(kind, str) else [told_by_api(SHOW, one) for one in kind]
            )
    token = token_of(stocked.monreq.key, stocked.show, None)
    before = stocked.stored()

    def call() -> TestResponse:
        client = stocked.monreq.flask.test_client()
        return client.post(path, json=said, headers={"Authorization": f"Bearer {token}"})

    first, after = call(), stocked.stored()
    second = call()

    assert first.status_code in (200, 201), first.text
    assert (second.status_code, second.get_json()) == (200, first.get_json())
    assert stocked.stored() == after
    assert after != before


def test_every_route_that_is_named_here_is_there() -> None:
    named = {*COOKIE_ALONE, *ASKS_FOR_A_PAGE, *TYPED, *NO_FORM, *ABOUT, *BODIES}

    assert named - set(routes()) == set()
