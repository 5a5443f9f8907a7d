"""A band is taken over into a show by plain forms: asked where unsure, reported whole, done by the last button alone."""

from dataclasses import replace

import pytest

from monreq.domain import commands as c
from monreq.domain.desk_facts import DeskFacts
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from monreq.domain.stage_commands import DescribeDesk
from tests.support.bands import BAND
from tests.support.evening import Evening
from tests.support.visitor import MINUS, Page, Values, Visitor

NEXT = "next"
LEVELS, REPORT, TAKE = "go on to the levels", "show what changes", "enter all of this as plans"


class Next:
    """The desk of an empty next show, with the band beside it."""

    def __init__(self, evening: Evening) -> None:
        self.monreq = evening.monreq
        self.monreq.bands.add(BAND)
        self.monreq.shows.open(NEXT, c.OpenShow("Next evening"))
        self.visitor = Visitor(self.monreq.flask)
        self.visitor.scan(self.monreq.link(self.show, None, ""))

    @property
    def show(self) -> Show:
        return self.monreq.shows.state(NEXT)

    def do(self, command: c.Command) -> None:
        self.monreq.shows.submit(NEXT, command)

    def matches(self) -> Page:
        return self.visitor.get("/desk/books/band1/open")

    def press(self, page: Page, button: str, typed: Values | None = None) -> Page:
        return self.visitor.press(page, button, typed)

    def report(self, matches: Values | None = None, levels: Values | None = None) -> Page:
        return self.press(self.press(self.matches(), LEVELS, matches), REPORT, levels)


@pytest.fixture
def following(evening: Evening) -> Next:
    return Next(evening)


def lines_of(page: Page, mix: str) -> dict[str, list[str]]:
    """Return the table of one mix on the report: source to cells."""
    (section,) = (
        one for one in page.markup.root.every("section") if any(mix in head.text for head in one.every("h2"))
    )
    rows = [row for row in section.every("tr") if list(row.every("td"))]
    return {next(row.every("th")).text: [cell.text for cell in row.every("td")] for row in rows}


def test_looking_changes_nothing(following: Next) -> None:
    before = following.show

    page = following.report()

    assert page.status == 200
    assert following.show == before


def test_last_button_enters_the_band_as_plans_nobody_confirmed(following: Next) -> None:
    page = following.report()

    answer = following.press(page, TAKE)

    assert answer.status == 303
    assert following.show.band == "band1"
    assert list(following.show.sources) == [source.id for source in BAND.sources]
    assert following.show.position("ears", "voice").setting == Setting(-270, 60)
    assert following.show.position("ears", "voice").confirmed_at_ms is None


def test_next_evening_on_another_desk_with_other_people_is_as_computed_by_hand(following: Next) -> None:
    following.do(DescribeDesk(DeskFacts(mono=0, stereo=2)))
    matches = {"musician-bassist": "", "deputy-singer": "Edda"}
    levels = {"heard-front": "in_ear_pair", "by-ears": "kick", "stands-ears": "-3"}

    page = following.report(matches, levels)
    following.press(page, TAKE)

    # Front: loudest -4 to -25, all -21 dB; output -6 to a new pair's -10. Drums: kick -9 to -3, all +6 dB.
    assert lines_of(page, "Front")["Lead voice"][:2] == [f"{MINUS}4", f"{MINUS}25"]
    assert lines_of(page, "Front")["Bass"][:2] == [f"{MINUS}17", f"{MINUS}38"]
    assert lines_of(page, "Front")["output"][:2] == [f"{MINUS}6", f"{MINUS}10"]
    assert lines_of(page, "Drums")["Click"][:2] == [f"{MINUS}14", f"{MINUS}8"]
    assert "Left out: Ben (musician)." in page.text
    assert "Edda sits in for Ada and gets the mix." in page.text
    assert "Pack turned down first" in page.text
    show = following.show
    assert (show.musician_name("singer"), "bassist" in show.musicians) == ("Edda", False)
    assert show.position("front", "voice").setting == Setting(-250)
    assert show.position("ears", "click").setting == Setting(-80)
    assert [show.mix(mix).auxes for mix in ("front", "ears")] == [(1,), (2,)]


def test_unsure_line_is_asked_and_not_guessed(following: Next) -> None:
    following.do(c.PutSource(replace(BAND.sources[3], id="v1", name="Lead vox")))
    page = following.matches()

    refused = following.press(page, LEVELS)
    taken = following.press(refused, LEVELS, {"source-voice": "v1"})

    assert "is this the same?" in page.text
    assert refused.notes == [
        "Say of every line what it is in this show: one that is here, one to add, or none."
    ]
    assert taken.markup.root.one("h1").text == "The Test Matches: what the mixes start from"


def test_two_lines_cannot_be_one_source(following: Next) -> None:
    following.do(c.PutSource(replace(BAND.sources[3], id="v1")))

    page = following.press(following.matches(), LEVELS, {"source-kick": "v1", "source-voice": "v1"})

    assert page.notes == ["Two lines name the same: each can be taken once."]


def test_level_that_is_none_is_refused_with_the_mix_and_keeps_what_was_typed(following: Next) -> None:
    levels = following.press(following.matches(), LEVELS)

    page = following.press(levels, REPORT, {"output-front": "loud", "stands-ears": "-3"})

    (note,) = page.notes
    assert note.startswith("Front: ")
    assert page.markup.fields(page.button(REPORT).form)["stands-ears"] == ["-3"]


def test_going_back_keeps_what_was_chosen(following: Next) -> None:
    report = following.report({"deputy-singer": "Edda"}, {"output-front": "-20"})
    fields = report.sent_by(report.button(TAKE))

    levels = following.visitor.post("/desk/books/band1/open/levels", fields)
    matches = following.visitor.post("/desk/books/band1/open/matches", fields)

    assert levels.sent_by(levels.button(REPORT))["output-front"] == ["-20"]
    assert levels.sent_by(levels.button(REPORT))["deputy-singer"] == ["Edda"]
    assert matches.sent_by(matches.button(LEVELS))["deputy-singer"] == ["Edda"]
    assert matches.sent_by(matches.button(LEVELS))["output-front"] == ["-20"]


def test_show_that_changed_meanwhile_is_shown_again(following: Next) -> None:
    page = following.report()
    following.do(c.PutSource(replace(BAND.sources[0], id="k9", name="Kazoo")))

    answer = following.press(page, TAKE)

    assert answer.status == 200
    assert answer.notes == [
        "The show or the band changed meanwhile: look at what would change now, and confirm again."
    ]
    assert "front" not in following.show.mixes


def test_last_button_pressed_twice_does_it_once(following: Next) -> None:
    page = following.report()
    following.press(page, TAKE)
    once = following.show

    answer = following.press(page, TAKE)

    assert answer.status == 303
    assert following.show == once


def test_after_the_soundcheck_mark_it_is_refused(following: Next) -> None:
    following.do(c.MarkSoundcheck())

    page = following.press(following.matches(), LEVELS)

    assert page.notes[0].startswith("The soundcheck mark is set")


def test_too_few_auxes_are_told(following: Next) -> None:
    following.do(DescribeDesk(DeskFacts(mono=1)))

    page = following.report()

    assert "Missing: 2 auxes" in page.text
    assert "Drums has no aux yet." in page.text


def test_unknown_band_is_not_there(following: Next) -> None:
    assert following.visitor.get("/desk/books/nosuch/open").status == 404


@pytest.mark.parametrize(("ticked", "is_put"), [({}, False), ({"click-ears": "y"}, True)], ids=["no", "yes"])
def test_click_goes_into_a_mix_that_becomes_a_wedge_only_where_that_is_ticked(
    following: Next, ticked: Values, *, is_put: bool
) -> None:
    page = following.report(levels={"heard-ears": "wedge", **ticked})

    following.press(page, TAKE)

    assert ("click" in following.show.levels["ears"].sends) is is_put
