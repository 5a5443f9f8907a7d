"""Songs at the desk: the set list, the strip, song and gap, and the moves that a kept mix asks for."""

import pytest

from monreq.domain import song_commands as so
from monreq.domain.songs import Song
from tests.support.evening import Evening
from tests.support.visitor import Page, Visitor

THREE = (Song("a", "Blue moor"), Song("b", "Long road"), Song("c", "Last train"))


@pytest.fixture
def evening(evening: Evening) -> Evening:
    evening.do(so.PutSetList(THREE))
    return evening


def press(engineer: Visitor, value: str, **typed: str) -> Page:
    page = engineer.get("/desk")
    return engineer.do(page, page.button_with(value), typed)


def test_pasted_set_list_is_taken_and_shown_to_be_changed(evening: Evening, engineer: Visitor) -> None:
    page = engineer.get("/desk/songs")

    after = engineer.do(page, "use this set list", {"lines": "Long road\r\n夜の道\r\n"})

    assert [song.name for song in evening.show.songs.values()] == ["Long road", "夜の道"]
    assert "b" in evening.show.songs
    assert "Long road\n夜の道" in after.source


def test_set_list_with_a_song_twice_is_refused(evening: Evening, engineer: Visitor) -> None:
    page = engineer.do(engineer.get("/desk/songs"), "use this set list", {"lines": "One\nOne"})

    assert page.notes == ["A song stands twice in the set list: give one of them another name."]
    assert list(evening.show.songs) == ["a", "b", "c"]


@pytest.mark.usefixtures("evening")
def test_one_button_says_song_and_gap_in_turn(engineer: Visitor) -> None:
    before = engineer.get("/desk").place("song")
    runs = press(engineer, "begin_song:").place("song")
    gap = press(engineer, "begin_gap:").place("song")

    assert "before the first song next: Blue moor 1 of 3" in before
    assert "song runs Blue moor 1 of 3" in runs
    assert "gap next: Long road 2 of 3" in gap


def test_mistaken_button_is_taken_back_as_the_last_answer_is(evening: Evening, engineer: Visitor) -> None:
    began = press(engineer, "begin_song:").place("decisions")
    gap = press(engineer, "begin_gap:").place("decisions")

    press(engineer, "take_back_stretch:")

    assert ("a song began" in began, "the gap began" in gap) == (True, True)
    assert (evening.show.song, evening.show.is_running) == ("a", True)


@pytest.mark.parametrize(
    ("button", "typed", "song"),
    [
        ("choose_song:b", {}, "b"),
        ("choose_typed:", {"typed-song": "3"}, "c"),
        ("choose_typed:", {"typed-song": "long"}, "b"),
    ],
)
def test_another_song_is_chosen(
    evening: Evening, engineer: Visitor, button: str, typed: dict[str, str], song: str
) -> None:
    press(engineer, button, **typed)

    assert evening.show.song == song


def test_song_that_nobody_plays_is_refused(evening: Evening, engineer: Visitor) -> None:
    page = press(engineer, "choose_typed:", **{"typed-song": "zebra"})

    assert page.notes == ["There is no such song in the set list."]
    assert evening.show.song == "a"


def test_strip_says_what_gathers_and_then_what_fits_into_the_gap(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 10)
    evening.ask("front", "drums", 10)

    runs = press(engineer, "begin_song:").place("song")

    gap = press(engineer, "begin_gap:").place("song")
    assert "2 rows for the gap , usual gap 30 s, as set" in runs
    assert "2 of 2 fit into what is left , usual gap 30 s, as set" in gap


def test_line_parts_what_fits_from_what_does_not(evening: Evening, engineer: Visitor) -> None:
    for mix, source in (("front", "voice"), ("ears", "voice"), ("side", "drums"), ("ears", None)):
        evening.ask(mix, source, 10, "bass" if mix == "ears" else None)
    evening.do(so.BeginSong())

    page = engineer.get("/desk")

    places = [one.attrs.get("id", "") for one in page.markup.root.one(id="queue").every("li")]
    rows = [place for place in places if place.startswith("row-") or place == "gap-line"]
    assert rows.index("gap-line") in range(1, len(rows) - 1)
    assert "what follows does not fit into the gap of 30 s" in page.place("gap-line")


def test_level_is_corrected_from_a_row_and_the_row_stays(evening: Evening, engineer: Visitor) -> None:
    evening.ask("front", "voice", 30)
    page = engineer.get("/desk")

    engineer.do(
        page, page.button_with("corrected:row-front-voice-level"), {"row-front-voice-level-figure": "c -12"}
    )

    assert evening.level("front", "voice") == -120
    assert evening.asked() == [("front", "voice", "level", 30)]
