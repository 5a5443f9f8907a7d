"""Exposure on a mix's page at the desk: levels at the ear typed in, the rule, and what both come to."""

import pytest

from monreq.domain import commands as c
from monreq.domain.measuring_events import EarLevelMeasured
from monreq.domain.readings import EarMethod
from tests.support.evening import SHOW, Evening
from tests.support.visitor import Page, Visitor

ENTER, RULE = "enter this level", "use this rule"
EARS, WEDGE = "/desk/mix/ears", "/desk/mix/front"


def enter(engineer: Visitor, level: str, how: str = "coupler", page: str = EARS, **more: str) -> Page:
    said = {} if page == WEDGE else {"field": "converted"}
    return engineer.do(engineer.get(page), ENTER, {"level": level, "how": how, **said, **more})


def figures(page: Page) -> dict[str, str]:
    rows = page.markup.root.one(id="exposure").every("tr")
    return {row.one("th").text: row.one("td").text for row in rows}


def test_without_a_level_nothing_is_claimed(engineer: Visitor) -> None:
    page = engineer.get(EARS)

    assert figures(page) == {}
    assert "No level was measured at the ear." in page.place("exposure")


def test_a_wedge_without_a_level_says_why_it_shows_no_time(engineer: Visitor) -> None:
    assert "Without one, a wedge shows its drift and no time" in engineer.get(WEDGE).place("exposure")


def test_a_level_entered_shows_what_it_comes_to(evening: Evening, engineer: Visitor) -> None:
    page = enter(engineer, "100")

    assert page.notes == ["Level at the ear entered."]
    assert evening.show.ear_levels["ears"][0].level_tenths == 1000
    found = figures(page)
    assert found["at the louder ear now"] == "100 dB(A)"
    assert "measured 100 dB(A), in an ear simulator or coupler, converted" in page.place("exposure")
    assert list(found) == [
        "at the louder ear now",
        "counted",
        "dose so far (NIOSH)",
        "time left at this level",
        "UK and EU points so far",
        "week's listening allowance",
    ]


def test_who_types_an_in_ear_level_says_whether_it_was_converted(evening: Evening, engineer: Visitor) -> None:
    page = enter(engineer, "94", field="")

    assert page.notes == ["Say whether the figure was converted, or is as it was read."]
    assert evening.show.ear_levels == {}


def test_a_level_as_read_says_why_it_has_no_dose(engineer: Visitor) -> None:
    page = enter(engineer, "104", field="as_read")

    assert list(figures(page)) == ["at the louder ear now", "counted"]
    assert "until then no dose and no time is told" in page.place("exposure")
    assert "measured 104 dB(A), in an ear simulator or coupler, as read, not converted" in page.place(
        "exposure"
    )


def test_the_phone_of_a_mix_says_what_the_desk_says(engineer: Visitor, bassist: Visitor) -> None:
    page = enter(engineer, "97")
    (forecast,) = [
        one.text for one in page.markup.root.one(id="exposure").every("p") if "day is full" in one.text
    ]

    own = bassist.get("/mix/ears").place("exposure")

    assert forecast in own
    assert figures(page)["at the louder ear now"] in own


def test_a_raise_shows_at_the_ear(evening: Evening, engineer: Visitor) -> None:
    enter(engineer, "94")
    evening.do(c.CorrectLevel("ears", None, -30))

    page = engineer.get(EARS)

    assert figures(page)["at the louder ear now"] == "97 dB(A)"
    assert "Rhythm's in-ears are 3.0 dB up since soundcheck" in page.place("exposure")
    assert "full after a half of the time (NIOSH)" in page.place("exposure")


def test_a_wedge_that_went_up_shows_drift_and_no_time(evening: Evening, engineer: Visitor) -> None:
    evening.do(c.CorrectLevel("front", None, -30))

    words = engineer.get(WEDGE).place("exposure")

    assert "Front wedge's mix is 3.0 dB up since soundcheck." in words
    assert "listening time" not in words


@pytest.mark.parametrize("typed", ["94.5", "94,5", " 94.5 dB(A)", "94.5 dba", "94.5 dB"])
def test_a_level_is_read_as_people_type_it(evening: Evening, engineer: Visitor, typed: str) -> None:
    enter(engineer, typed)

    assert evening.show.ear_levels["ears"][0].level_tenths == 945


@pytest.mark.parametrize(
    ("typed", "how", "sentence"),
    [
        (
            "loud",
            "coupler",
            "Type the level at the ear as the instrument showed it, in dB(A), like 94 or 94.5.",
        ),
        (
            "NaN",
            "coupler",
            "Type the level at the ear as the instrument showed it, in dB(A), like 94 or 94.5.",
        ),
        ("94.55", "coupler", "Levels and changes are whole tenths of a dB."),
        (
            "-12",
            "coupler",
            "A level at the ear while playing goes from 40 to 140 dB(A): check the figure, and that it is not a fader's.",
        ),
        (
            "200",
            "coupler",
            "A level at the ear while playing goes from 40 to 140 dB(A): check the figure, and that it is not a fader's.",
        ),
        ("", "coupler", "Type the level at the ear, and say how it was measured."),
        ("94", "", "Type the level at the ear, and say how it was measured."),
        ("94", "by_guess", "Type the level at the ear, and say how it was measured."),
        ("94", "other", "Say in words how it was measured."),
    ],
)
def test_what_is_no_level_is_refused_in_words(
    evening: Evening, engineer: Visitor, typed: str, how: str, sentence: str
) -> None:
    before = evening.show

    page = enter(engineer, typed, how)

    assert (page.path, page.notes) == (EARS, [sentence])
    assert evening.show == before


def test_a_wedge_is_not_measured_in_a_coupler(evening: Evening, engineer: Visitor) -> None:
    page = enter(engineer, "94", "coupler", WEDGE)

    assert page.notes == ["A wedge's level counts only where it was measured at the ear while playing."]
    assert evening.show.ear_levels == {}


def test_a_wedge_offers_the_one_way_only(engineer: Visitor) -> None:
    offered = [one.attrs["value"] for one in engineer.get(WEDGE).markup.root.every("input", name="how")]

    assert offered == ["at_the_ear"]


def test_a_wrong_level_is_replaced(evening: Evening, engineer: Visitor) -> None:
    enter(engineer, "124")

    page = enter(engineer, "94", is_correction="y")

    assert [one.level_tenths for one in evening.show.ear_levels["ears"]] == [940]
    assert figures(page)["at the louder ear now"] == "94 dB(A)"


def test_another_way_is_shown_in_its_words(engineer: Visitor) -> None:
    page = enter(engineer, "94", "other", words="a probe mic")

    assert "measured 94 dB(A), a probe mic, converted" in page.place("exposure")


def test_the_same_form_sent_twice_is_entered_once(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get(EARS)

    answers = [
        engineer.press(page, ENTER, {"level": "94", "how": "coupler", "field": "converted"}) for _ in range(2)
    ]

    recorded = [one.event for one in evening.monreq.shows.about(SHOW, ["mix:ears"])]
    assert [one.status for one in answers] == [303, 303]
    assert recorded.count(EarLevelMeasured("ears", 940, EarMethod.COUPLER, is_field_level=True)) == 1


def test_the_rule_is_chosen_for_the_whole_show(evening: Evening, engineer: Visitor) -> None:
    enter(engineer, "95")

    page = engineer.do(engineer.get(EARS), RULE, {"rule": "osha"})

    assert evening.show.settings.exposure_rule == "osha"
    assert "dose so far (OSHA)" in figures(page)


@pytest.mark.parametrize("rule", ["", "loudest", "NIOSH"])
def test_a_rule_that_is_none_is_refused(evening: Evening, engineer: Visitor, rule: str) -> None:
    page = engineer.do(engineer.get(EARS), RULE, {"rule": rule})

    assert page.notes == ["This page is out of date. Load it again."]
    assert evening.show.settings.exposure_rule == "niosh"


def test_cautions_stand_beside_the_figures(engineer: Visitor) -> None:
    words = engineer.get(EARS).place("exposure")

    assert "never a safety device. Local law and licensed practice come first." in words
    assert "A meter held to an earpiece says nothing" in words
    assert (
        "Never one earpiece only: the ear that stays is turned up by about 6 dB, which is 4 times the dose"
        in words
    )
    assert "Several share this mix" in words


@pytest.mark.parametrize("form", ["", "/rule"])
def test_nobody_but_the_desk_has_a_say(evening: Evening, singer: Visitor, form: str) -> None:
    page, before = singer.get("/mix/front"), evening.show
    own = page.sent_by(page.button("more Voice"))

    answer = singer.post(
        f"{WEDGE}/exposure{form}", {**own, "level": "94", "how": "at_the_ear", "rule": "osha"}
    )

    assert answer.status == 401
    assert evening.show == before


def test_a_mix_that_is_not_there_is_refused(engineer: Visitor) -> None:
    page = engineer.get(EARS)

    answer = engineer.post(
        "/desk/mix/nothere/exposure",
        page.sent_by(page.button(ENTER), {"level": "94", "how": "coupler"}),
        Accept="application/json",
    )

    assert answer.response.get_json() == {
        "error": "unknown_mix",
        "message": "There is no such mix in this show.",
    }
