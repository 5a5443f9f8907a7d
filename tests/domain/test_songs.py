"""Songs: the set list, which one runs or comes next, and what a mistaken key costs."""

import itertools

import pytest

from monreq.domain import song_commands as so
from monreq.domain.refusals import BadId, NameRequired
from monreq.domain.song_refusals import NothingToTakeBack, SongTwice, TooManySongs, UnknownSong
from monreq.domain.songs import MOST_SONGS, Song, songs_of_lines
from tests.support.stage import START_MS, Stage

THREE = (Song("a", "Blue moor"), Song("b", "Long road"), Song("c", "Last train"))


@pytest.fixture
def stage(stage: Stage) -> Stage:
    stage.do(so.PutSetList(THREE))
    return stage


def ids() -> "itertools.count[int]":
    return itertools.count(1)


def test_first_song_of_a_new_set_list_comes_next(stage: Stage) -> None:
    assert (stage.show.song, stage.show.is_running, stage.show.phase_at_ms) == ("a", False, None)


def test_song_that_is_over_leads_to_the_next(stage: Stage) -> None:
    stage.do(so.BeginSong())
    stage.wait(200)

    stage.do(so.BeginGap())

    assert (stage.show.song, stage.show.is_running) == ("b", False)
    assert stage.show.phase_at_ms == START_MS + 200_000


def test_after_the_last_song_none_comes(stage: Stage) -> None:
    stage.do(so.ChooseSong("c"))
    stage.do(so.BeginSong())

    stage.do(so.BeginGap())

    assert stage.show.song is None


def test_song_runs_also_without_a_set_list() -> None:
    bare = Stage()

    bare.do(so.BeginSong())
    bare.do(so.BeginGap())

    assert (bare.show.song, bare.show.is_running) == (None, False)


@pytest.mark.parametrize(("first", "again"), [(so.BeginSong(), so.BeginSong()), (None, so.BeginGap())])
def test_what_two_desks_say_happens_once(
    stage: Stage, first: so.BeginSong | None, again: so.BeginSong | so.BeginGap
) -> None:
    if first:
        stage.do(first)

    assert stage.do(again) == ()


def test_mistaken_gap_is_taken_back_whole(stage: Stage) -> None:
    stage.do(so.BeginSong())
    running = stage.show.stretch
    stage.wait(100)
    stage.do(so.BeginGap())

    stage.do(so.TakeBackStretch())

    assert stage.show.stretch == running


def test_mistaken_song_is_taken_back_and_the_gap_is_measured_once(stage: Stage) -> None:
    stage.do(so.BeginSong())
    stage.do(so.BeginGap())
    stage.wait(10)
    stage.do(so.BeginSong())
    stage.do(so.TakeBackStretch())
    stage.wait(10)

    stage.do(so.BeginSong())

    assert stage.show.gaps_ms == (20_000,)


def test_beginning_is_taken_back_once(stage: Stage) -> None:
    stage.do(so.BeginSong())
    stage.do(so.TakeBackStretch())

    with pytest.raises(NothingToTakeBack):
        stage.do(so.TakeBackStretch())


def test_song_in_play_stays_when_the_set_list_changes_around_it(stage: Stage) -> None:
    stage.do(so.ChooseSong("b"))
    stage.do(so.BeginSong())

    stage.do(so.PutSetList((THREE[2], THREE[1])))

    assert (stage.show.song, stage.show.is_running) == ("b", True)
    assert list(stage.show.songs) == ["c", "b"]


def test_next_song_that_leaves_the_set_list_gives_way_to_the_first(stage: Stage) -> None:
    stage.do(so.PutSetList(THREE[1:]))

    assert stage.show.song == "b"


def test_running_song_that_leaves_the_set_list_runs_on_without_a_name(stage: Stage) -> None:
    stage.do(so.BeginSong())

    stage.do(so.PutSetList(THREE[1:]))

    assert (stage.show.song, stage.show.is_running) == (None, True)


@pytest.mark.parametrize(
    ("command", "refusal"),
    [
        (so.ChooseSong("x"), UnknownSong),
        (so.PlanSongMoves("x", ()), UnknownSong),
        (so.PutSetList((THREE[0], THREE[0])), SongTwice),
        (so.PutSetList((Song("a", "One"), Song("b", "ONE"))), SongTwice),
        (so.PutSetList((Song("A!", "One"),)), BadId),
        (so.PutSetList((Song("a", "\u202e"),)), NameRequired),
        (so.PutSetList(tuple(Song(f"s{n}", f"Song {n}") for n in range(MOST_SONGS + 1))), TooManySongs),
    ],
)
def test_what_makes_no_sense_is_refused(
    stage: Stage, command: so.SongCommand, refusal: type[Exception]
) -> None:
    with pytest.raises(refusal):
        stage.do(command)


def test_pasted_lines_are_songs_and_known_names_keep_their_ids() -> None:
    new = ids()

    songs = songs_of_lines("  Long road \r\n\n夜の道\nblue MOOR\n", THREE, lambda: f"n{next(new)}")

    assert songs == (Song("b", "Long road"), Song("n1", "夜の道"), Song("a", "blue MOOR"))


def test_pasted_line_that_stands_twice_is_refused() -> None:
    new = ids()

    with pytest.raises(SongTwice):
        songs_of_lines("One\nTwo\none", (), lambda: f"n{next(new)}")


def test_nothing_pasted_is_an_empty_set_list(stage: Stage) -> None:
    stage.do(so.PutSetList(songs_of_lines(" \n", (), lambda: "x")))

    assert (stage.show.songs, stage.show.song) == ({}, None)
