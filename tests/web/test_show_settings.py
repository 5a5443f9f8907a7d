"""The show's settings on Prepare: typed as people type them, refused in a sentence, changed only where typed over."""

from dataclasses import replace

import pytest

from monreq.domain import commands as c
from monreq.domain.setup import Settings
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

PREPARE = "/desk/prepare"


def save(visitor: Visitor, **typed: str) -> Page:
    return visitor.do(visitor.get(PREPARE), "save settings", typed)


def test_every_setting_is_shown_and_can_be_typed_over(evening: Evening, engineer: Visitor) -> None:
    page = save(
        engineer,
        touch_tenths="1.5",
        some_tenths="4 dB",
        lot_tenths="8",
        wedge_raise_tenths="5",
        in_ear_raise_tenths="2",
        unmeasured_raise_tenths="1,5",
        in_ear_evening_tenths="4",
        wedge_evening_tenths="8",
        source_evening_tenths="9",
        reserve_tenths="4",
        song_s="5:30",
        gap_s="20",
        rule="eu",
    )

    assert page.notes == []
    assert evening.show.settings == Settings(
        touch_tenths=15,
        some_tenths=40,
        lot_tenths=80,
        wedge_raise_tenths=50,
        in_ear_raise_tenths=20,
        unmeasured_raise_tenths=15,
        in_ear_evening_tenths=40,
        wedge_evening_tenths=80,
        source_evening_tenths=90,
        reserve_tenths=40,
        song_s=330,
        gap_s=20,
        exposure_rule="eu",
    )


def test_settings_saved_as_they_stand_change_nothing(evening: Evening, engineer: Visitor) -> None:
    before = evening.show

    page = save(engineer)

    assert page.notes == []
    assert evening.show == before


def test_what_another_desk_changed_meanwhile_stays(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(PREPARE)
    evening.do(c.ChangeSettings(replace(Settings(), reserve_tenths=60, exposure_rule="osha")))

    engineer.do(page, "save settings", {"gap_s": "0:20"})

    assert evening.show.settings == replace(Settings(), reserve_tenths=60, exposure_rule="osha", gap_s=20)


def test_phones_ask_for_the_amounts_that_were_set(engineer: Visitor, singer: Visitor) -> None:
    save(engineer, touch_tenths="0.5")

    assert "0.5" in singer.get("/mix/front").text


@pytest.mark.parametrize(
    ("field", "text", "sentence"),
    [
        (
            "reserve_tenths",
            "2.9",
            "The margin reserve goes from 3 to 12 dB: a wedge rings on within about 3 dB.",
        ),
        ("touch_tenths", "3", "The three amounts grow from a touch to a lot, above 0 and at most 12 dB."),
        ("wedge_raise_tenths", "13", "The largest raise in one trip goes from 0 to 12 dB."),
        ("gap_s", "0", "A song lasts at most an hour, and so does the gap after it; neither lasts nothing."),
        ("some_tenths", "some", "Some: Type dB as a figure, like 3 or 1.5."),
        ("some_tenths", "3.14", "Some: Levels and changes are whole tenths of a dB."),
        (
            "song_s",
            "long",
            "A song lasts: Type a time as minutes and seconds, like 4:00, or in seconds, like 30.",
        ),
        ("rule", "none", "Something is missing there, or not as it should be."),
    ],
)
def test_a_setting_that_cannot_be_is_refused_in_a_sentence(
    evening: Evening, engineer: Visitor, field: str, text: str, sentence: str
) -> None:
    before = evening.show

    page = save(engineer, **{field: text})

    assert page.notes == [sentence]
    assert evening.show == before


def test_a_page_from_a_show_that_never_was_is_refused(evening: Evening, engineer: Visitor) -> None:
    before = evening.show

    page = save(engineer, seen="999999")

    assert page.notes == ["The show has not come that far."]
    assert evening.show == before


# Trim.


def test_a_source_has_a_trim_where_its_channel_is_not_like_the_others(
    evening: Evening, engineer: Visitor
) -> None:
    page = engineer.get(PREPARE)

    after = engineer.do(page, page.button("save", "/sources/drums"), {"trim": "-4.5"})

    assert after.notes == []
    assert evening.show.sources["drums"].trim_tenths == -45
    assert (
        engineer.get(PREPARE).markup.root.one("section", id="sources").text.count("not gain-staged like") == 1
    )


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("31", "A trim goes from -30 to +30 dB: check the figure."),
        ("hot", "Type dB as a figure, like 3 or 1.5."),
    ],
)
def test_a_trim_that_cannot_be_is_refused_in_a_sentence(
    evening: Evening, engineer: Visitor, text: str, sentence: str
) -> None:
    page = engineer.get(PREPARE)
    before = evening.show

    after = engineer.do(page, page.button("save", "/sources/drums"), {"trim": text})

    assert after.notes == [sentence]
    assert evening.show == before
