"""The stage plan drawn: everybody inside it, facing as they face, names as names."""

import re

import pytest

from monreq.domain.stage_commands import PlaceOnStage
from monreq.domain.stage_plan import SourcePlace, Spot, Standing
from monreq.web.stage_drawing import stage_drawing
from monreq.web.stage_names import LETTER_CM, Drawn, roomy
from tests.support.evening import Evening
from tests.support.prepare_page import PREPARE
from tests.support.visitor import Page, Visitor


def drawn(page: Page, name: str) -> str:
    """Return the transforms of the one who is called so."""
    people = [one for one in page.markup.root.every("g") if one.attrs.get("class") == "person"]
    (group,) = (one for one in people if any(name in g.attrs.get("aria-label", "") for g in one.every("g")))
    return " ".join(one.attrs["transform"] for one in group.every("g"))


def test_a_musician_is_drawn_where_they_stand_with_the_audience_below(
    evening: Evening, engineer: Visitor
) -> None:
    evening.do(PlaceOnStage((("singer", Standing(Spot(120, 300), facing_deg=330)),)))
    name = evening.show.musician_name("singer")

    page = engineer.get(PREPARE)

    assert drawn(page, name) == "translate(120 -300) rotate(330)"


@pytest.mark.parametrize("spot", [Spot(0, 0), Spot(-2500, 0), Spot(1200, 1900), Spot(3, -400)])
def test_the_drawing_shows_everybody_with_room_around(evening: Evening, spot: Spot) -> None:
    evening.do(PlaceOnStage((("singer", Standing(spot)),), (("drums", SourcePlace(Spot(-spot.x_cm, 10))),)))

    drawing = stage_drawing(evening.show)

    for one in (*drawing.musicians, *drawing.sources):
        assert drawing.left < one.x < drawing.left + drawing.width
        assert drawing.top < one.y < drawing.top + drawing.depth


def test_sources_beside_a_musician_are_named_there(evening: Evening) -> None:
    evening.do(PlaceOnStage((("singer", Standing(Spot(0, 0))),), (("voice", SourcePlace(beside="singer")),)))

    (singer,) = stage_drawing(evening.show).musicians

    assert singer.sources == ("Voice",)


def test_who_stands_nowhere_can_be_put_on_stage_at_a_press(evening: Evening, engineer: Visitor) -> None:
    page = engineer.do(engineer.get(PREPARE), "put the others on stage")

    assert set(evening.show.standings) == set(evening.show.musicians)
    assert "put the others on stage" not in page.buttons()


@pytest.mark.parametrize("x", ["1001", "-99999"])
def test_a_place_off_any_stage_is_refused_in_a_sentence(evening: Evening, engineer: Visitor, x: str) -> None:
    before = evening.show

    page = engineer.do(
        engineer.get(PREPARE), "save the stage", {"musician-singer-x": x, "musician-singer-y": "1"}
    )

    assert len(page.notes) == 1
    assert re.search(r"metres|m\b", page.notes[0])
    assert page.sent_by(page.button("save the stage"))["musician-singer-x"] == [x]
    assert evening.show == before


def test_whole_names_are_drawn_where_they_fit_beside_one_another() -> None:
    """The demo's horns, half a step apart: nothing is cut, no name lies on another or on somebody."""
    neighbours = (
        Drawn("a", "Trumpet", -320, -250, sources=("Trumpet",), is_musician=True),
        Drawn("b", "Saxophone", -400, -200, sources=("Saxophone",), is_musician=True),
        Drawn("c", "Guitar", -200, -220),
    )

    drawn = list(roomy(neighbours, neighbours, 500))

    assert [one.cut(one.name) for one in drawn] == ["Trumpet", "Saxophone", "Guitar"]
    assert [one.cut(source) for one in drawn for source in one.sources] == ["Trumpet", "Saxophone"]
    assert drawn[1].shift < 0


@pytest.mark.parametrize("apart", [70, 120, 180, 260])
@pytest.mark.parametrize(
    "names", [("Ada", "A very long name of somebody"), ("Saxophone", "Accordion"), ("Zoë", "Bo")]
)
def test_names_side_by_side_never_meet(apart: int, names: tuple[str, str]) -> None:
    neighbours = [
        Drawn(name, name, at * apart, 0, is_musician=True)
        for at, name in enumerate((*names, "Somebody else"))
    ]

    drawn = list(roomy(neighbours, neighbours, 1000))

    ends = [
        (one.x + one.shift + side * len(one.cut(one.name)) * LETTER_CM / 2)
        for one in drawn
        for side in (-1, 1)
    ]
    assert ends == sorted(ends)


def test_a_name_that_does_not_fit_is_cut_and_says_so() -> None:
    crowd = [Drawn(f"m{at}", "Saxophone", at * 70, 0, is_musician=True) for at in range(3)]

    drawn = list(roomy(crowd, crowd, 1000))

    assert drawn[1].cut("Saxophone") == "Saxo\N{HORIZONTAL ELLIPSIS}"
    assert drawn[1].cut("Sax") == "Sax"
