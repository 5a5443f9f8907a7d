"""What was kept for a song stands in the queue when that song comes next; going on without is one button."""

from dataclasses import replace

import pytest

from monreq.domain import song_commands as so
from monreq.domain.band import Band, KeptMix
from monreq.domain.band_commands import ChooseBand
from monreq.domain.setup import Setting
from monreq.domain.songs import Song
from monreq.web.context import web
from tests.support.evening import Evening
from tests.support.visitor import Visitor

SONGS = (Song("a", "Blue moor"), Song("b", "Long road"))
WHOLE = KeptMix("k0", "front", "All of it", Setting(-60), {"voice": Setting(-40)}, 1, show="before")
KEPT = replace(WHOLE, id="k1", name="Quiet voice", sends={"voice": Setting(-70)}, song="b")
SIDE = replace(KEPT, id="k2", mix="side", show="")


@pytest.fixture
def evening(evening: Evening) -> Evening:
    show = evening.show
    band = Band(
        "band1",
        "Band",
        sources=tuple(show.sources.values()),
        musicians=tuple(show.musicians.values()),
        mixes=tuple(show.mixes.values()),
        songs=SONGS,
        kept=(WHOLE, KEPT, SIDE),
    )
    with evening.monreq.flask.app_context():
        web().bands.add(band)
    evening.do(ChooseBand(band.id))
    evening.do(so.PutSetList(SONGS))
    evening.do(so.BeginSong())
    return evening


def press(engineer: Visitor, value: str) -> None:
    page = engineer.get("/desk")
    engineer.do(page, page.button_with(value))


def test_gap_brings_the_moves_of_the_next_song(evening: Evening, engineer: Visitor) -> None:
    press(engineer, "begin_gap:")

    page = engineer.get("/desk")
    assert evening.asked() == [("front", "voice", "level", -30)]
    assert "1 row for Long road" in page.place("song")
    assert "for Long road" in page.place("row-front-voice-level")


def test_phone_reads_which_song_its_moves_are_for(engineer: Visitor, singer: Visitor) -> None:
    press(engineer, "begin_gap:")

    waiting = singer.get("/mix/front").place("strip-voice")

    assert "the desk sets it for Long road" in waiting
    assert "preamp" not in waiting


def test_going_on_without_and_with_them_after_all(evening: Evening, engineer: Visitor) -> None:
    press(engineer, "begin_gap:")

    press(engineer, f"drop_moves:{evening.show.waiting_song_plan}")
    without = evening.asked()
    press(engineer, "plan_moves:b")

    assert (without, evening.asked()) == ([], [("front", "voice", "level", -30)])


def test_mix_that_cannot_be_planned_is_told_with_why(evening: Evening, engineer: Visitor) -> None:
    press(engineer, "begin_gap:")

    strip = engineer.get("/desk").place("song")
    assert "Not planned: Side wedge. Nothing was kept for the whole show beside it" in strip

    press(engineer, f"drop_moves:{evening.show.waiting_song_plan}")
    assert "Not planned" not in engineer.get("/desk").place("song")
