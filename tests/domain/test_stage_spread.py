"""Where musicians are put who stand nowhere yet: by the words of their mix's place, nobody on another's feet."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.setup import Mix, Output
from monreq.domain.stage_commands import PlaceOnStage
from monreq.domain.stage_plan import Spot, Standing
from monreq.domain.stage_spread import spread
from tests.support.stage import Stage


def stage_of(*places: str) -> Stage:
    stage = Stage()
    for number, place in enumerate(places):
        stage.musician(f"m{number}", f"Musician {number}")
        stage.do(c.PutMix(Mix(f"x{number}", f"Mix {number}", Output.WEDGE, (f"m{number}",), place)))
    return stage


def test_the_words_of_a_place_say_where_and_left_is_the_musicians_own_left() -> None:
    standings = spread(stage_of("back left", "front right", "").show)

    assert standings == {
        "m0": Standing(Spot(250, 400)),
        "m1": Standing(Spot(-250, 100)),
        "m2": Standing(Spot(0, 250)),
    }


@pytest.mark.parametrize(
    ("back_left", "front_right"),
    [
        ("back left", "front right"),
        ("hinten links", "vorne rechts"),
        ("atrás izquierda", "delante derecha"),
        ("au fond à gauche", "devant à droite"),
        ("atrás à esquerda", "na frente à direita"),
        ("後ろ左", "前方の下手"),
        ("الخلف، اليسار", "أمام يمين"),
    ],
)
def test_the_words_of_a_place_are_read_in_the_languages_of_the_pages(
    back_left: str, front_right: str
) -> None:
    standings = spread(stage_of(back_left, front_right).show)

    assert [one.spot for one in standings.values()] == [Spot(250, 400), Spot(-250, 100)]


def test_who_stands_already_stays_where_they_are() -> None:
    stage = stage_of("centre", "centre")
    stage.do(PlaceOnStage((("m0", Standing(Spot(0, 250))),)))

    standings = spread(stage.show)

    assert list(standings) == ["m1"]
    assert standings["m1"].spot != Spot(0, 250)


@given(st.lists(st.sampled_from(["", "centre", "left", "back right", "hinten"]), max_size=12))
def test_everybody_gets_a_spot_of_their_own_that_the_show_takes(places: list[str]) -> None:
    stage = stage_of(*places)

    standings = spread(stage.show)
    stage.do(PlaceOnStage(tuple(standings.items())))

    assert stage.show.standings == standings
    assert len(standings) == len(places) == len({one.spot for one in standings.values()})
