"""What is unusual across shows: a send held against the same chair's mixes of the shows before."""

from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.band import Band, KeptMix
from monreq.domain.keeping import ToKeep, keep
from monreq.domain.setup import Mix, Output, Setting
from monreq.domain.unusual import ShowsBefore, Unusual, shows_before, unusual
from tests.support.stage import START_MS, Stage, small_stage

SENDS = ("voice", "drums", "guitar", "talk")
USUAL = {"voice": -200, "drums": -200, "guitar": -200, "talk": -200}


def band_of(*shows: Mapping[str, int], mix: str = "front", heard_as: Output | None = Output.WEDGE) -> Band:
    """Return a band that kept one mix in each of some shows, the oldest first."""
    kept = [
        KeptMix(
            f"k{number}",
            mix,
            "Evening",
            Setting(-60),
            {source: Setting(level) for source, level in sends.items()},
            START_MS + number,
            show=f"before{number}",
            heard_as=heard_as,
        )
        for number, sends in enumerate(shows)
    ]
    return Band("band1", "The Test Matches", kept=tuple(kept))


def found(stage: Stage, band: Band, source: str = "voice", mix: str = "front") -> Unusual | None:
    return unusual(stage.show, shows_before(stage.show, band), mix, source)


@pytest.fixture
def stage() -> Stage:
    """A wedge whose sends somebody confirmed, all at -20 dB."""
    stage = small_stage()
    for source in SENDS:
        stage.correct("front", source, -200)
    return stage


def test_a_send_far_above_the_shows_before_is_unusual(stage: Stage) -> None:
    stage.correct("front", "voice", -60)

    assert found(stage, band_of(*[USUAL] * 5)) == Unusual(140, 5)


def test_a_send_far_below_them_is_unusual_too(stage: Stage) -> None:
    stage.correct("front", "voice", -300)

    assert found(stage, band_of(*[USUAL] * 3)) == Unusual(-100, 3)


@pytest.mark.parametrize(("level", "is_unusual"), [(-190, False), (-149, False), (-148, True)])
def test_three_equal_shows_do_not_make_a_few_decibels_unusual(
    stage: Stage, level: int, *, is_unusual: bool
) -> None:
    stage.correct("front", "voice", level)

    assert (found(stage, band_of(*[USUAL] * 3)) is not None) is is_unusual


def test_what_varies_from_show_to_show_has_to_stand_farther_off(stage: Stage) -> None:
    varied = [{**USUAL, "voice": level} for level in (-140, -170, -200, -230, -260)]
    stage.correct("front", "voice", -100)

    assert found(stage, band_of(*varied)) is None
    assert found(stage, band_of(*[USUAL] * 5)) == Unusual(100, 5)


def test_two_shows_tell_nothing(stage: Stage) -> None:
    stage.correct("front", "voice", 0)

    assert found(stage, band_of(USUAL, USUAL)) is None


def test_mixes_of_songs_of_this_show_and_of_nobody_knows_which_are_left_out(stage: Stage) -> None:
    stage.correct("front", "voice", 0)
    band = band_of(*[USUAL] * 5)
    of_song, of_now, unknown, *two = band.kept
    left_out = (replace(of_song, song="blue"), replace(of_now, show=stage.show.id), replace(unknown, show=""))

    assert found(stage, replace(band, kept=(*left_out, *two))) is None


def test_of_each_show_the_newest_mix_counts(stage: Stage) -> None:
    stage.correct("front", "voice", 0)
    band = band_of(*[{**USUAL, "voice": 0}] * 3)
    first = [replace(one, id=f"first-{one.id}", kept_at_ms=0, sends={}) for one in band.kept]

    assert found(stage, replace(band, kept=(*first, *band.kept))) is None
    assert len(shows_before(stage.show, replace(band, kept=(*first, *band.kept)))) == 3


def test_a_wedge_is_not_held_against_in_ears(stage: Stage) -> None:
    stage.correct("front", "voice", 0)

    assert found(stage, band_of(*[USUAL] * 3, heard_as=Output.IN_EAR_PAIR)) is None
    assert found(stage, band_of(*[USUAL] * 3, heard_as=None)) is None


def test_the_mix_of_the_same_musicians_is_the_same_chairs(stage: Stage) -> None:
    stage.correct("front", "voice", 0)
    band = band_of(*[USUAL] * 3, mix="old")
    mixes = (Mix("old", "Front", Output.WEDGE, ("singer",)),)

    assert found(stage, band) is None
    assert found(stage, replace(band, mixes=mixes)) == Unusual(200, 3)


def test_one_wrong_figure_makes_no_other_send_look_wrong(stage: Stage) -> None:
    stage.correct("front", "drums", 100)

    assert found(stage, band_of(*[USUAL] * 3), "drums") == Unusual(300, 3)
    assert [found(stage, band_of(*[USUAL] * 3), one) for one in ("voice", "guitar", "talk")] == [None] * 3


def test_a_plan_that_nobody_confirmed_counts_for_nothing() -> None:
    planned = small_stage()
    planned.correct("front", "voice", 0)

    assert found(planned, band_of(*[USUAL] * 3)) is None


def test_how_far_preamps_were_turned_is_counted(stage: Stage) -> None:
    band = band_of(*[{**USUAL, "voice": -320}] * 3)
    turned = replace(band, kept=tuple(replace(one, gains={"voice": 120}) for one in band.kept))

    assert found(stage, band) == Unusual(120, 3)
    assert found(stage, turned) is None


def test_what_is_kept_by_the_desk_is_what_the_next_show_is_held_against(stage: Stage) -> None:
    band = Band("band1", "The Test Matches")
    for number in range(3):
        band = keep(
            band,
            replace(stage.show, id=f"before{number}"),
            ToKeep(("front",), "Evening"),
            [f"k{number}"],
            number,
        )
    stage.correct("front", "voice", -60)

    assert found(stage, band) == Unusual(140, 3)


@given(st.lists(st.integers(-50, 50), min_size=3, max_size=6), st.integers(-80, 80), st.integers(-300, 0))
def test_desk_and_pack_cancel(shifts: list[int], now: int, level: int) -> None:
    """Every send of a show shifted by one figure, and another output, change nothing."""
    stage = small_stage()
    for source in SENDS:
        stage.correct("front", source, -200)
    stage.correct("front", "voice", level)
    plain = found(stage, band_of(*[USUAL] * len(shifts)))
    shifted = [{source: one + shift for source, one in USUAL.items()} for shift in shifts]
    for source in SENDS:
        stage.correct("front", source, stage.level("front", source) + now)
    stage.correct("front", None, -100)

    assert found(stage, band_of(*shifted)) == plain


@given(st.lists(st.integers(-600, 100), min_size=3, max_size=10), st.integers(-600, 100))
def test_nothing_within_five_decibels_of_the_usual_is_unusual(levels: list[int], level: int) -> None:
    stage = small_stage()
    for source in SENDS:
        stage.correct("front", source, -200)
    stage.correct("front", "voice", level)
    one = found(stage, band_of(*[{**USUAL, "voice": other} for other in levels]))

    assert one is None or abs(one.tenths) > 50


def test_a_show_whose_band_kept_nothing_is_held_against_nothing(stage: Stage) -> None:
    nothing: ShowsBefore = shows_before(stage.show, Band("band1", "The Test Matches"))

    assert nothing == ()
    assert unusual(stage.show, nothing, "front", "voice") is None


def test_mixes_that_left_the_show_do_no_harm(stage: Stage) -> None:
    stage.do(c.RemoveMix("ears"))

    assert found(stage, band_of(*[USUAL] * 3, mix="ears")) is None
