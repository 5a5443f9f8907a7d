"""The sheets to print say in words what stands in the show, and nothing else."""

import pytest

from monreq.domain import commands as c
from monreq.domain.group_commands import PutGroup
from monreq.domain.groups import Group
from monreq.domain.setup import Mix, Output, Setting, Source, SourceKind, TakenAt
from monreq.domain.stage_commands import PlaceOnStage
from monreq.domain.stage_plan import Spot, Standing
from monreq.web.sheet_view import MIXES_ABREAST, SheetView, mix_sheet, show_sheets
from tests.support.evening import Evening
from tests.support.visitor import MINUS, Visitor

SHEETS = "/desk/sheets"


def sheet(evening: Evening, title: str) -> SheetView:
    (found,) = (one for one in show_sheets(evening.show) if one.title == title)
    return found


def row(view: SheetView, name: str) -> tuple[str, ...]:
    (found,) = (one for one in view.rows if name in one[:2])
    return found


def test_the_input_list_numbers_every_source_and_says_what_it_is(evening: Evening) -> None:
    evening.do(c.PutSource(Source("keys", "Keys", SourceKind.DIRECT, is_stereo=True, trim_tenths=-60)))
    evening.do(c.PutSource(Source("cello", "Cello", SourceKind.DIRECT, is_acoustic=True)))
    evening.do(PutGroup(Group("band", "Band", ("drums", "keys"))))

    inputs = sheet(evening, "Input list")

    assert [one[:3] for one in inputs.rows[:2]] == [("1", "Voice", "open mic"), ("2", "Drums", "open mic")]
    assert row(inputs, "Click")[2:] == ("direct", "click")
    assert row(inputs, "Cello")[2:] == ("direct, acoustic pickup", "")
    assert row(inputs, "Keys")[2:] == ("direct", f"stereo, trim {MINUS}6 dB, Band")


def test_the_sheet_of_a_mix_says_each_level_pan_and_the_output(evening: Evening) -> None:
    evening.do(c.PutSend("ears", "drums", Setting(-125, pan_percent=-35)))

    ears, front = mix_sheet(evening.show, "ears"), mix_sheet(evening.show, "front")

    assert (ears.head, front.head) == (("source", "level", "pan"), ("source", "level"))
    assert row(ears, "Drums") == ("Drums", f"{MINUS}12.5", "left 35")
    assert row(front, "Guitar") == ("Guitar", "off")
    assert "Glass harp" not in [one[0] for one in front.rows]
    assert front.about == ("Evening, Ada, wedge, centre, aux 1", f"output {MINUS}6 dB")


def test_the_sheet_of_all_mixes_has_a_column_for_each_and_a_line_for_every_source(evening: Evening) -> None:
    evening.do(c.PutSend("ears", "drums", Setting(-125, pan_percent=-35)))

    mixes = sheet(evening, "Mixes")

    assert mixes.head == ("source", "Front wedge", "Rhythm", "Side wedge")
    assert row(mixes, "output")[1:] == (f"{MINUS}6",) * 3
    assert row(mixes, "Drums") == ("Drums", f"{MINUS}11", f"{MINUS}12.5 L35", f"{MINUS}11")
    assert row(mixes, "Guitar")[1:] == ("off", f"{MINUS}16", "off")
    assert row(mixes, "Glass harp")[1:] == ("", "", f"{MINUS}17")
    assert len(mixes.rows) == len(evening.show.sources) + 1


def test_more_mixes_than_fit_abreast_go_on_in_a_further_table(evening: Evening) -> None:
    for number in range(MIXES_ABREAST):
        evening.do(c.PutMix(Mix(f"more{number}", f"More {number}", Output.WEDGE, ())))

    tables = [one for one in show_sheets(evening.show) if one.title == "Mixes"]

    assert [len(one.head) - 1 for one in tables] == [MIXES_ABREAST, 3]
    assert [name for one in tables for name in one.head[1:]] == [
        mix.name for mix in evening.show.mixes.values()
    ]


def test_a_mix_taken_after_the_fader_says_so_on_its_sheet(evening: Evening) -> None:
    evening.do(c.PutMix(Mix("side", "Side wedge", Output.WEDGE, ("guest",), taken_at=TakenAt.POST_FADER)))

    about = mix_sheet(evening.show, "side").about

    assert about[-1] == "Taken after the fader: every move of a house fader changes this mix."


def test_the_page_has_every_sheet_and_the_stage_plan_once_somebody_stands(
    evening: Evening, engineer: Visitor
) -> None:
    before = [one.text for one in engineer.get(SHEETS).markup.root.every("h2")]
    evening.do(PlaceOnStage((("singer", Standing(Spot(0, 100))),)))

    page = engineer.get(SHEETS)

    titles = [one.text for one in page.markup.root.every("h2")]
    assert before == ["Input list", "Mixes", "Front wedge", "Rhythm", "Side wedge"]
    assert titles == ["Input list", "Stage plan", *before[1:]]
    assert "Ada" in page.markup.root.one("svg").text


def test_one_mix_can_be_printed_alone(engineer: Visitor) -> None:
    page = engineer.get(f"{SHEETS}?mix=ears")

    assert [one.text for one in page.markup.root.every("h2")] == ["Rhythm"]
    assert engineer.get(f"{SHEETS}?mix=nothere").status == 404


@pytest.mark.parametrize("where", ["/desk/mix/ears", "/desk/afterwards"])
def test_the_sheet_of_a_mix_is_a_link_away(engineer: Visitor, where: str) -> None:
    links = [one.attrs["href"] for one in engineer.get(where).markup.root.every("a") if "href" in one.attrs]

    assert f"{SHEETS}?mix=ears" in links


def test_the_sheets_are_a_file_too(engineer: Visitor) -> None:
    answer = engineer.ask("GET", f"{SHEETS}/sheets.pdf")

    assert (answer.status_code, answer.mimetype) == (200, "application/pdf")
    assert answer.data.startswith(b"%PDF")


@pytest.mark.security
def test_markup_in_names_is_printed_as_it_was_typed(evening: Evening, engineer: Visitor) -> None:
    nasty = "<img src=x onerror=alert(1)>"
    evening.do(c.PutSource(Source("voice", nasty, SourceKind.OPEN_MIC)))
    evening.do(PlaceOnStage((("singer", Standing(Spot(0, 100))),)))

    page = engineer.get(SHEETS)

    assert nasty in page.text
    assert "<img" not in page.source
