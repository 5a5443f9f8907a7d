"""What a musician sees on the phone page."""

import re
from collections.abc import Sequence

import pytest

from monreq.domain import commands as c
from monreq.domain.requests import Outcome
from monreq.domain.setup import Mix, Musician, Output, Source, SourceKind
from tests.support.evening import Evening
from tests.support.phone_page import answer, names_on_strips, one_asked
from tests.support.visitor import Page, Visitor


def test_phone_shows_the_sources_of_its_own_mix_in_the_order_of_the_input_list(
    singer: Visitor, bassist: Visitor
) -> None:
    assert names_on_strips(singer.get("/mix/front")) == ["Voice", "Drums", "Guitar", "Talkback"]
    assert names_on_strips(bassist.get("/mix/ears")) == ["Voice", "Drums", "Guitar", "Click", "Talkback"]


# The token against forgery is drawn by chance, and may hold any short word.
_TOKEN = re.compile(r"[\w-]{20,}\.[\w-]{5,}\.[\w-]{20,}")


@pytest.mark.security
def test_phone_shows_nothing_of_another_mix(evening: Evening, singer: Visitor) -> None:
    before = singer.get("/mix/front").text
    evening.ask("side", "harp", 37)
    evening.ask("ears", "drums", -21, "drummer")
    evening.do(c.AskAboutSound("side", None, "drums", "tinny as a biscuit tin"))
    answer(evening, Outcome.NOT_DONE, evening.ask("side", "drums", 44), reason="ask Dorothea about it")

    page, places = singer.get("/mix/front"), singer.get("/mix/front/places")

    theirs = ("Glass harp", "Dorothea", "Side wedge", "Rhythm", "biscuit", "3.7", "2.1", "4.4", "Bo", "Cy")
    assert page.text == before
    assert [word for word in theirs if word in _TOKEN.sub("", page.source)] == []
    assert [word for word in theirs if word in _TOKEN.sub("", places.response.text)] == []


def test_phone_says_how_much_each_amount_is(singer: Visitor) -> None:
    page = singer.get("/mix/front")

    labels = {one.attrs["for"]: one.text for one in page.markup.root.every("label")}
    assert labels == {
        "amount-touch": "a touch 1 dB",
        "amount-some": "some 3 dB",
        "amount-lot": "a lot 6 dB",
    }
    assert page.markup.fields(page.button("more Voice").form)["amount"] == ["some"]


@pytest.mark.parametrize("given", ["enormous", "", "some\n"])
def test_an_amount_that_is_none_leaves_the_usual_one_chosen(singer: Visitor, given: str) -> None:
    page = Page(singer.client.get("/mix/front", query_string={"amount": given}))

    assert page.markup.fields(page.button("more Voice").form)["amount"] == ["some"]


def test_wedge_has_no_left_and_right(singer: Visitor, bassist: Visitor) -> None:
    def sides(page: Page) -> list[str]:
        return [name for name in page.buttons() if name.endswith((" left", " right"))]

    assert sides(singer.get("/mix/front")) == []
    assert sides(bassist.get("/mix/ears"))[:2] == ["Voice further left", "Voice further right"]


def test_in_ear_pair_that_is_fed_mono_has_no_left_and_right(evening: Evening, bassist: Visitor) -> None:
    evening.do(c.PutMix(Mix("ears", "Rhythm", Output.IN_EAR_PAIR, ("bass", "drummer"), is_fed_mono=True)))

    buttons = bassist.get("/mix/ears").buttons()

    assert "more Voice" in buttons
    assert [name for name in buttons if name.endswith((" left", " right"))] == []


def test_talkback_has_no_less_on_a_phone(singer: Visitor) -> None:
    buttons = [name for name in singer.get("/mix/front").buttons() if "Talkback" in name]

    assert "more Talkback" in buttons
    assert not {"less Talkback", "take out Talkback"} & set(buttons)


# What people type.

NASTY: Sequence[str] = ("<script>alert(1)</script>", '"><img src=x onerror=1>', "{{ 7*7 }}", "a' & b")


@pytest.mark.security
@pytest.mark.parametrize("name", NASTY)
def test_names_are_shown_as_they_were_typed(evening: Evening, singer: Visitor, name: str) -> None:
    evening.do(c.PutSource(Source("voice", name, SourceKind.OPEN_MIC)))
    evening.do(c.PutMusician(Musician("singer", name)))
    evening.do(c.PutMix(Mix("front", name, Output.WEDGE, ("singer",), name[:40])))
    evening.do(c.RenameShow(name))
    answer(evening, Outcome.NOT_DONE, one_asked(evening), reason=name)

    page = singer.get("/mix/front")

    assert names_on_strips(page)[0] == name
    assert f"not done: {name}" in page.place("strip-voice")
    assert "<script>alert" not in page.source
    assert "<img" not in page.source
    assert f"more {name}" in page.buttons()
