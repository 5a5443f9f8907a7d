"""A musician who is taken out while their phone is open, and lists and forms as long as any band's."""

import re

import pytest

from monreq.domain import commands as c
from monreq.domain.carry_commands import DoTogether
from monreq.domain.setup import Source, SourceKind
from monreq.domain.stage_plan import Spot
from monreq.storage.settings import FIRST_EPOCH
from tests.support.evening import SHOW, Evening
from tests.support.prepare_page import PREPARE
from tests.support.visitor import Visitor


def sent_along(visitor: Visitor, evening: Evening) -> dict[str, str]:
    """Return what every form of the desk carries; a page of so many fields takes the reader of markup too long."""
    (token,) = set(re.findall(r'name="csrf_token"[^>]* value="([^"]+)"', visitor.get("/desk/codes").source))
    seen = evening.show.revision
    return {
        "csrf_token": token,
        "show": f"{SHOW}.{FIRST_EPOCH}",
        "client_id": f"form{seen}",
        "seen": str(seen),
    }


def test_who_was_taken_out_of_a_shared_mix_asks_for_nobody_else(
    evening: Evening, bassist: Visitor, drummer: Visitor
) -> None:
    page = bassist.get("/mix/ears")
    evening.do(c.RemoveMusician("bass"))

    after = bassist.do(page, "more Drums")

    assert after.notes == [
        "You were taken out of this mix at the desk: load this page again and say who you are."
    ]
    assert "You were taken out of this mix at the desk. Say who you are" in after.text
    assert evening.asked() == []
    assert "taken out" not in drummer.get("/mix/ears").text


def test_who_was_taken_out_still_calls_the_desk(evening: Evening, bassist: Visitor) -> None:
    page = bassist.get("/mix/ears")
    evening.do(c.RemoveMusician("bass"))

    bassist.do(page, page.button_with("call-hurts:"))

    assert [kind for _, _, kind, _ in evening.asked()] == ["call"]


def test_who_says_who_they_are_goes_on(evening: Evening, bassist: Visitor) -> None:
    evening.do(c.RemoveMusician("bass"))

    page = bassist.do(bassist.get("/mix/ears/who"), "yes, open my mix")
    bassist.do(page, "more Drums")

    assert evening.asked() == [("ears", "drums", "level", 30)]


def test_a_phone_reads_that_what_it_asked_for_was_taken_out(evening: Evening, singer: Visitor) -> None:
    before = singer.get("/mix/front").place("strips")
    evening.ask("front", "voice", 30)

    evening.do(c.RemoveSource("voice"))

    after = singer.get("/mix/front").place("strips")
    assert "taken out" not in before
    assert "1 source you asked for was taken out of the show: not done." in after
    assert evening.asked() == []


def test_a_mix_that_nobody_hears_says_so(evening: Evening, singer: Visitor) -> None:
    evening.do(c.RemoveMusician("singer"))

    page = singer.get("/mix/front")

    assert "Nobody hears this mix now, so nothing can be asked here: ask the engineer." in page.text


def test_two_hundred_sources_are_placed_and_their_levels_entered(evening: Evening, engineer: Visitor) -> None:
    sources = [Source(f"x{number}", f"Source {number}", SourceKind.OPEN_MIC) for number in range(200)]
    evening.do(DoTogether([c.PutSource(one) for one in sources]))

    places = {f"source-{one.id}-{field}": "1.5" for one in sources for field in ("x", "y")}
    beside = {f"source-{one.id}-beside": "" for one in sources}
    levels = {
        f"{one.id}-{field}": value for one in sources for field, value in (("level", "-33"), ("on", "on"))
    }

    placed = engineer.post(f"{PREPARE}/stage", {**sent_along(engineer, evening), **places, **beside})
    entered = engineer.post("/desk/mix/ears/levels", {**sent_along(engineer, evening), **levels})

    assert (placed.status, entered.status) == (303, 303)
    assert {evening.show.place_of(one.id).spot for one in sources} == {Spot(150, 150)}
    assert {evening.level("ears", one.id) for one in sources} == {-330}


@pytest.mark.parametrize("letter", ["x", "混", "ع"])
def test_two_hundred_long_names_of_any_script_are_pasted_at_once(
    evening: Evening, engineer: Visitor, letter: str
) -> None:
    before = len(evening.show.sources)
    lines = "\n".join(
        f"{letter * 50} {chr(65 + number // 26)}{chr(65 + number % 26)}" for number in range(200)
    )

    page = engineer.do(engineer.get(PREPARE), "add these sources", {"lines": lines})

    assert page.notes == []
    assert len(evening.show.sources) == before + 200


@pytest.mark.security
def test_nobody_but_the_desk_sends_a_list_that_long(evening: Evening, stranger: Visitor) -> None:
    answer = stranger.post(f"{PREPARE}/lists/sources", {"lines": "混" * 30_000})

    assert answer.status == 413
    assert len(evening.show.sources) == 6


def test_phone_whose_mix_was_removed_is_told_that_its_code_opens_nothing(
    evening: Evening, singer: Visitor
) -> None:
    evening.do(c.RemoveMix("front"))

    assert singer.get("/mix/front").status == 410
