"""Groups on the phone: first in the list, opening to single sources, asked for in one tap."""

import pytest

from monreq.domain import commands as c
from monreq.domain import group_commands as g
from monreq.domain.groups import Group
from monreq.domain.requests import Kind, Outcome, RowKey
from monreq.web.phone_view import phone_places
from monreq.web.places import PlaceRenderer
from tests.support.evening import Evening
from tests.support.phone_page import names_on_strips, waiting
from tests.support.visitor import Page, Visitor

MINUS = "\N{MINUS SIGN}"


@pytest.fixture(autouse=True)
def band(evening: Evening) -> None:
    evening.do(g.PutGroup(Group("band", "Band", ("drums", "guitar"))))


def inside(page: Page, group: str) -> list[str]:
    return [one.text for one in page.markup.root.one("li", id=f"group-{group}").every("b")]


def test_group_stands_first_and_holds_its_sources(bassist: Visitor) -> None:
    page = bassist.get("/mix/ears")

    assert names_on_strips(page) == ["Band", "Drums", "Guitar", "Voice", "Click", "Talkback"]
    assert inside(page, "band") == ["Band", "Drums", "Guitar"]
    assert "Drums, Guitar" in page.place("strip-band")


def test_less_of_a_group_is_one_tap(evening: Evening, bassist: Visitor) -> None:
    page = bassist.do(bassist.get("/mix/ears"), "less Band")

    assert waiting(evening) == [("band", "level", -30)]
    assert f"{MINUS}3, waiting" in page.place("strip-band")
    assert "take back Band" in " ".join(page.buttons())


def test_group_can_be_taken_out_and_told_how_it_sounds(evening: Evening, bassist: Visitor) -> None:
    bassist.do(bassist.get("/mix/ears"), "take out Band")
    bassist.do(bassist.get("/mix/ears"), "Band sounds boomy")

    assert waiting(evening) == [("band", "in_out", -1), ("band", "sound", 0)]


def test_group_has_no_left_and_right(bassist: Visitor) -> None:
    assert "Band further left" not in bassist.get("/mix/ears").buttons()
    assert "Drums further left" in bassist.get("/mix/ears").buttons()


def test_single_sources_stay_to_be_asked_for_and_are_seen_on_the_folded_group(
    evening: Evening, bassist: Visitor
) -> None:
    page = bassist.do(bassist.get("/mix/ears"), "more Drums")

    assert waiting(evening) == [("drums", "level", 30)]
    assert "Drums: waiting" in page.place("strip-band")
    assert "+3, waiting" in page.place("strip-drums")


def test_mix_where_only_one_of_a_group_is_on_shows_the_source(singer: Visitor) -> None:
    page = singer.get("/mix/front")

    assert "Band" not in names_on_strips(page)
    assert not page.has_place("group-band")
    assert {"Drums", "Guitar"} <= set(names_on_strips(page))


def test_sub_mix_is_asked_for_by_its_group_and_stands_nowhere_else(evening: Evening, singer: Visitor) -> None:
    evening.do(g.PutGroup(Group("band", "Band", ("drums", "guitar"), "voice")))

    page = singer.do(singer.get("/mix/front"), "more Band")

    assert waiting(evening) == [("voice", "level", 30)]
    assert names_on_strips(page) == ["Band", "Drums", "Guitar", "Talkback"]
    assert "+3, waiting" in page.place("strip-band")


def test_source_in_two_groups_stands_in_the_first(evening: Evening, bassist: Visitor) -> None:
    evening.do(g.PutGroup(Group("all", "All", ("voice", "drums", "guitar", "click"))))

    page = bassist.get("/mix/ears")

    assert inside(page, "band") == ["Band", "Drums", "Guitar"]
    assert inside(page, "all") == ["All", "Voice", "Click"]


def test_push_draws_anew_what_moves_into_a_group(evening: Evening) -> None:
    before = phone_places(evening.show, "ears")
    evening.do(g.PutGroup(Group("band", "Band", ("drums", "guitar", "voice"))))
    after = phone_places(evening.show, "ears")

    changed = PlaceRenderer(evening.monreq.flask.jinja_env).changed(before, after)

    assert {"strips", "group-band", "strip-band", "strip-voice"} == set(changed)
    assert "Voice" in changed["strip-voice"]


def test_what_the_desk_did_to_a_group_is_told_on_its_strip(evening: Evening, bassist: Visitor) -> None:
    evening.ask("ears", "band", -30, "bass")
    requests = tuple(one.id for one in evening.show.requests_in(RowKey("ears", "band", Kind.LEVEL)))
    evening.do(c.Answer(requests, Outcome.DONE))

    assert f"done {MINUS}3" in bassist.get("/mix/ears").place("strip-band")
