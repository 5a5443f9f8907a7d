"""Keeping at the desk: any mix or all, twice once, for a song, compared, brought back by hand, and after the show."""

import pytest

from monreq.domain import commands as c
from monreq.domain.band import Band
from monreq.domain.song_commands import PutSetList
from monreq.domain.songs import Song
from tests.support.evening import Evening
from tests.support.visitor import MINUS, Page, Visitor

BAND_NAME = "The Marsh Hens"


def band(evening: Evening) -> Band:
    return evening.monreq.bands.get(evening.show.band)


def kept_page(desk: Visitor) -> Page:
    return desk.get("/desk/kept")


def keep_all(desk: Visitor, name: str = "First evening") -> Page:
    page = kept_page(desk)
    values = {"name": name, "mixes": ["front", "ears", "side"]}
    if "the band's name" in page.text:
        values["band"] = BAND_NAME
    return desk.press(page, "keep", values)


def test_first_keep_names_the_band_and_keeps_what_is_ticked(evening: Evening, engineer: Visitor) -> None:
    page = keep_all(engineer)

    assert page.status == 303
    kept = band(evening).kept
    assert band(evening).name == BAND_NAME
    assert [(one.mix, one.name) for one in kept] == [
        ("front", "First evening"),
        ("ears", "First evening"),
        ("side", "First evening"),
    ]
    assert "3 mixes kept." in engineer.get("/desk/kept").notes
    assert evening.show.kept_notes["front"].name == "First evening"


def test_double_tap_on_keep_keeps_once(evening: Evening, engineer: Visitor) -> None:
    page = kept_page(engineer)
    values = {"name": "First evening", "mixes": ["front"], "band": BAND_NAME}

    engineer.press(page, "keep", values)
    engineer.press(page, "keep", values)

    assert len(band(evening).kept) == 1
    assert len(evening.monreq.bands.entries()) == 1


@pytest.mark.parametrize(
    ("values", "sentence"),
    [
        ({"name": ""}, "A name is missing."),
        ({"mixes": []}, "Say which mixes to keep."),
        ({"band": ""}, "This show has no band yet: name it first."),
        ({"name": "x" * 61}, "That text is too long."),
    ],
)
def test_keep_without_what_it_needs_says_so_and_keeps_nothing(
    evening: Evening, engineer: Visitor, values: dict[str, str], sentence: str
) -> None:
    page = kept_page(engineer)

    engineer.press(page, "keep", {"name": "First", "mixes": ["front"], "band": BAND_NAME, **values})

    assert engineer.get("/desk/kept").notes == [sentence]
    assert [entry.kept for entry in evening.monreq.bands.entries()] in ([], [0])


def test_mix_page_says_what_changed_since_it_was_kept_and_keeps_it_anew(
    evening: Evening, engineer: Visitor
) -> None:
    keep_all(engineer)
    evening.do(c.CorrectLevel("front", "drums", -70))
    page = engineer.get("/desk/mix/front")

    assert "Since then: Drums +4" in page.text
    engineer.press(page, "keep as it stands now", {"name": "Second evening"})

    assert [one.name for one in band(evening).kept if one.mix == "front"] == [
        "First evening",
        "Second evening",
    ]
    assert "Nothing moved since then." in engineer.get("/desk/mix/front").text


def test_mix_is_kept_for_one_song(evening: Evening, engineer: Visitor) -> None:
    evening.do(PutSetList((Song("blue", "Blue moor"), Song("fen", "Fen")), "blue"))
    page = kept_page(engineer)

    engineer.press(page, "keep", {"name": "Quiet", "mixes": ["ears"], "song": "fen", "band": BAND_NAME})

    assert [(one.mix, one.song) for one in band(evening).kept] == [("ears", "fen")]
    assert [one.name for one in band(evening).songs] == ["Blue moor", "Fen"]


def test_kept_mix_is_brought_back_only_as_far_as_the_hand_went(evening: Evening, engineer: Visitor) -> None:
    keep_all(engineer)
    kept = band(evening).kept[0]
    evening.do(c.CorrectLevel("front", "drums", -70))
    evening.do(c.CorrectLevel("front", None, -20))
    page = engineer.get(f"/desk/kept/{kept.id}")
    before = evening.show

    assert "Goes up in a wedge" not in page.text
    assert f"whole mix {MINUS}2 {MINUS}6 Drums {MINUS}7 {MINUS}11" in page.text
    assert evening.show == before
    engineer.press(page, "those ticked are set", {"ticked": ["drums:-110:0:1"]})
    assert (evening.level("front", "drums"), evening.level("front", None)) == (-110, -20)

    engineer.press(engineer.get(f"/desk/kept/{kept.id}"), "d all of these are set")
    assert evening.level("front", None) == kept.output.level_tenths
    assert "Everything stands as it was kept." in engineer.get(f"/desk/kept/{kept.id}").text


def test_line_that_the_page_never_showed_is_refused(evening: Evening, engineer: Visitor) -> None:
    keep_all(engineer)
    kept = band(evening).kept[0]
    evening.do(c.CorrectLevel("front", "drums", -70))
    page = engineer.get(f"/desk/kept/{kept.id}")

    for line in ("drums", "drums:loud:0:1", "drums:0:0", "nothing:-40:0:1", "drums:99999:0:1"):
        engineer.press(page, "those ticked are set", {"ticked": [line]})

    assert evening.level("front", "drums") == -70


def test_two_kept_mixes_are_compared(evening: Evening, engineer: Visitor) -> None:
    keep_all(engineer)
    evening.do(c.CorrectLevel("front", "drums", -70))
    evening.do(c.CorrectLevel("front", "guitar", is_on=True))
    keep_all(engineer, "Second evening")
    first, second = (one.id for one in band(evening).kept if one.mix == "front")

    page = engineer.get(f"/desk/kept/{second}?other={first}")

    assert "Since First evening: Drums +4 · Guitar in" in page.text


def test_source_removed_since_is_told_and_its_kept_level_stays(evening: Evening, engineer: Visitor) -> None:
    keep_all(engineer)
    kept = band(evening).kept[0]
    evening.do(c.RemoveSource("drums"))
    evening.do(c.CorrectLevel("front", "voice", -90))

    page = engineer.get(f"/desk/kept/{kept.id}")

    assert "Kept, but not in this mix now: Drums." in page.text
    assert "Goes up in a wedge: Voice." in page.text
    assert "drums" in band(evening).kept[0].sends


def test_two_desks_that_change_one_kept_mix_one_is_told(evening: Evening, engineer: Visitor) -> None:
    keep_all(engineer)
    kept = band(evening).kept[0].id
    page = engineer.get(f"/desk/kept/{kept}")

    first = engineer.do(page, "rename", {"name": "Wet halls"})
    engineer.press(page, "remove First evening for good")

    assert first.notes == ["Renamed."]
    assert "Somebody else changed this band meanwhile" in " ".join(engineer.get("/desk/kept").notes)
    assert band(evening).kept[0].name == "Wet halls"


def test_names_with_markup_and_in_any_script_are_shown_as_typed(engineer: Visitor) -> None:
    keep_all(engineer, "<b>雨の夜</b> ليلة")

    page = engineer.get("/desk/kept")

    assert "<b>雨の夜</b> ليلة" in page.text
    assert "<b>雨" not in page.source


def test_band_is_renamed_and_removed(evening: Evening, engineer: Visitor) -> None:
    keep_all(engineer)
    address = f"/desk/bands/{band(evening).id}"

    engineer.press(engineer.get(address), "rename", {"name": "The Fen Hens"})
    engineer.press(engineer.get(address), "remove The Fen Hens for good")

    assert evening.monreq.bands.entries() == []
    assert engineer.get(address).status == 404
    assert "the band's name" in engineer.get("/desk/kept").text
