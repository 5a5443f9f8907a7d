"""Two evenings of one band are merged by a plain form, picked mix by mix."""

from dataclasses import replace

import pytest

from monreq.domain.setup import Setting
from tests.support.bands import BAND, EARS, kept_mix
from tests.support.evening import Evening
from tests.support.visitor import Visitor

LATER = kept_mix("kept9", "front", -80, {"voice": Setting(-10)}, at=5)
THEIRS = replace(BAND, id="band2", name="Second night", kept=(LATER, EARS))
PAGE = "/desk/books/band1/merge/band2"


@pytest.fixture
def engineer(evening: Evening) -> Visitor:
    evening.monreq.bands.add(BAND)
    evening.monreq.bands.add(THEIRS)
    visitor = Visitor(evening.monreq.flask)
    visitor.scan(evening.link())
    return visitor


def test_both_stand_side_by_side_with_the_difference(engineer: Visitor) -> None:
    page = engineer.get(PAGE)

    # By hand: output -6 and -8, voice -4 and -1.
    assert "output \N{MINUS SIGN}6 \N{MINUS SIGN}8 \N{MINUS SIGN}2" in page.text
    assert "Lead voice \N{MINUS SIGN}4 \N{MINUS SIGN}1 +3" in page.text


def test_a_source_that_is_an_acoustic_pickup_in_one_evening_only_is_told(
    evening: Evening, engineer: Visitor
) -> None:
    sources = tuple(replace(one, is_acoustic=one.id == "bass") for one in BAND.sources)
    evening.monreq.bands.add(replace(THEIRS, id="band3", name="Third night", sources=sources))

    assert "Bass differs in: acoustic pickup." in engineer.get("/desk/books/band1/merge/band3").text


def test_what_was_picked_stays_and_the_other_evening_goes(evening: Evening, engineer: Visitor) -> None:
    page = engineer.do(engineer.get(PAGE), "merge as picked", {"pick-front": "theirs"})

    assert page.notes == ["Both evenings of The Test Matches are one now."]
    assert [one.id for one in evening.monreq.bands.entries()] == ["band1"]
    assert [one.name for one in evening.monreq.bands.get("band1").kept] == ["Kept2", "Kept9"]


def test_mix_that_was_not_picked_is_asked_for(evening: Evening, engineer: Visitor) -> None:
    page = engineer.press(engineer.get(PAGE), "merge as picked")

    assert page.notes == ["Pick for every mix that differs which evening's to keep."]
    assert len(evening.monreq.bands.entries()) == 2


def test_band_that_changed_meanwhile_is_shown_again(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PAGE)
    evening.monreq.bands.rename("band1", "Renamed", 1)

    answer = engineer.press(page, "merge as picked", {"pick-front": "both"})

    assert answer.notes[0].startswith("The show or the band changed meanwhile")
    assert len(evening.monreq.bands.entries()) == 2
