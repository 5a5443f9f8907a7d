"""The places of the pages: drawn from a state and nothing else, and only where they differ."""

import random
import re
from collections.abc import Iterator
from itertools import pairwise

import pytest
from jinja2 import Environment

from monreq.app import Monreq
from monreq.cli.demo import begin
from monreq.cli.demo_phones import next_ask
from monreq.domain import commands as c
from monreq.domain.queue import queue
from monreq.domain.requests import Outcome
from monreq.domain.show import Show
from monreq.web.desk_view import desk_places
from monreq.web.phone_view import phone_places
from monreq.web.places import PlaceRenderer, Places
from tests.support.evening import Evening
from tests.support.markup import Markup
from tests.support.visitor import Visitor

PRIVATE = re.compile(r"csrf|client_id|client-id|data-revision", re.IGNORECASE)


@pytest.fixture
def draw(evening: Evening) -> PlaceRenderer:
    """Draws outside of any request, as the announcer does."""
    return PlaceRenderer(_environment(evening.monreq))


def _environment(monreq: Monreq) -> Environment:
    return monreq.flask.jinja_env


def pages(show: Show) -> Iterator[Places]:
    yield desk_places(show)
    yield from (phone_places(show, mix) for mix in show.mixes)


def busy(evening: Evening) -> list[Show]:
    """States of an evening in which all kinds of things are asked and answered."""
    begin(evening.monreq.shows, "busy")
    chance = random.Random(11)
    shows, states = evening.monreq.shows, []
    for _ in range(60):
        ask = next_ask(shows.state("busy"), chance)
        assert ask is not None
        states.append(shows.submit("busy", ask).show)
        rows = queue(states[-1])
        if chance.random() < 0.5 and rows:
            requests = tuple(request.id for request in chance.choice(rows).requests)
            outcome = chance.choice(list(Outcome))
            states.append(shows.submit("busy", c.Answer(requests, outcome, reason="near_feedback")).show)
    return states


def test_the_same_state_is_always_drawn_the_same(evening: Evening) -> None:
    evening.ask("front", "voice", 30)
    first, second = (PlaceRenderer(_environment(evening.monreq)) for _ in range(2))

    for places in pages(evening.show):
        assert first.everything(places) == first.everything(places) == second.everything(places)


def test_two_clients_get_the_same_places(evening: Evening, bassist: Visitor, drummer: Visitor) -> None:
    evening.ask("ears", "drums", 30, "bass")

    first, second = (one.get("/mix/ears/places").response.json or {} for one in (bassist, drummer))

    assert "+3, waiting" in first["fragments"]["strips"]
    assert first["fragments"] == second["fragments"]


@pytest.mark.security
def test_no_place_holds_what_belongs_to_one_page_alone(evening: Evening, draw: PlaceRenderer) -> None:
    for state in busy(evening)[::6]:
        for places in pages(state):
            drawn = {**draw.everything(places), **draw.changed({}, places)}
            assert {place: found for place, text in drawn.items() if (found := PRIVATE.findall(text))} == {}


def test_every_place_is_one_element_that_bears_its_name(evening: Evening, draw: PlaceRenderer) -> None:
    for state in busy(evening)[::6]:
        for places in pages(state):
            for place, text in draw.changed({}, places).items():
                (element,) = [one for one in Markup(text).root.children if not isinstance(one, str)]
                assert element.attrs["id"] == place


def test_a_whole_page_holds_every_place_once(evening: Evening, draw: PlaceRenderer) -> None:
    for state in busy(evening)[::6]:
        for places in pages(state):
            markup = Markup("".join(draw.everything(places).values()))
            ids = [one.attrs["id"] for one in markup.root.every() if "id" in one.attrs]
            assert [place for place in places if ids.count(place) != 1] == []
            assert len(ids) == len(set(ids))


def test_changed_gives_only_what_differs(evening: Evening, draw: PlaceRenderer) -> None:
    before = evening.show
    evening.ask("front", "voice", 30)
    after = evening.show

    assert set(draw.changed(phone_places(before, "front"), phone_places(after, "front"))) == {"strip-voice"}
    assert draw.changed(phone_places(before, "side"), phone_places(after, "side")) == {}
    assert draw.changed(desk_places(after), desk_places(after)) == {}


def test_a_container_comes_with_shells_for_its_children(evening: Evening, draw: PlaceRenderer) -> None:
    before = evening.show
    evening.ask("front", "voice", 30)

    changed = draw.changed(desk_places(before), desk_places(evening.show))

    assert 'id="row-front-voice-level"' in changed["queue"]
    assert "asked" not in Markup(changed["queue"]).text
    assert "asked once by Ada" in Markup(changed["row-front-voice-level"]).text


@pytest.mark.parametrize("page", ["desk", "phone"])
def test_a_page_that_takes_every_change_shows_what_a_fresh_one_shows(
    evening: Evening, draw: PlaceRenderer, page: str
) -> None:
    def places_of(state: Show) -> Places:
        return desk_places(state) if page == "desk" else phone_places(state, "drums")

    states = busy(evening)
    shown = draw.changed({}, places_of(states[0]))
    for before, after in pairwise(states):
        shown |= draw.changed(places_of(before), places_of(after))

    fresh = draw.changed({}, places_of(states[-1]))
    assert {place: shown[place] for place in fresh} == fresh
