"""What lasted of a show, what a kept mix differs in, what it takes to bring it back, and the line-up that stays."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.band import Band, KeptMix
from monreq.domain.carry_refusals import UnknownKeptMix
from monreq.domain.history import Difference
from monreq.domain.keeping import (
    ToKeep,
    keep,
    kept_settings,
    standing_settings,
    with_kept_renamed,
    without_kept,
)
from monreq.domain.keeping_differences import differences, latest_kept, since_kept, to_set
from monreq.domain.lasting import Lasted, Stretch, lasting, stretches, what_lasted, without_moments
from monreq.domain.line_up import with_line_up
from monreq.domain.setup import Output, Setting, SourceKind
from tests.support.stage import Stage, small_stage

SONG_MS = 240_000
LOW, HIGH, HIGHER = Setting(-200), Setting(-140), Setting(-100)
SETTINGS = st.builds(Setting, st.integers(-300, 0), st.just(0), st.booleans())
LINES = st.lists(st.tuples(st.integers(0, 7_200_000), SETTINGS), min_size=1, max_size=12).map(
    lambda line: sorted(line, key=lambda one: one[0])
)


def minutes(line: list[tuple[float, Setting]], end: float = 60) -> Setting | None:
    stood = stretches([(round(at * 60_000), setting) for at, setting in line], round(end * 60_000))
    return lasting(stood, 0, SONG_MS)


def test_setting_that_never_moved_lasted() -> None:
    assert minutes([(0, LOW)]) == LOW


def test_setting_of_most_of_the_later_half_lasted() -> None:
    assert minutes([(0, LOW), (35, HIGH)]) == HIGH


def test_move_near_the_end_does_not_displace_what_stood_for_most_of_the_later_half() -> None:
    assert minutes([(0, LOW), (10, HIGH), (50, HIGHER)]) == HIGH


def test_move_that_was_back_within_a_song_is_of_the_moment() -> None:
    assert minutes([(0, LOW), (31, HIGH), (35, LOW), (40, HIGH), (44, LOW), (50, HIGH), (53.9, LOW)]) == LOW
    assert without_moments(
        [Stretch(LOW, 0, 100), Stretch(HIGH, 100, 100 + SONG_MS), Stretch(LOW, 100 + SONG_MS, 10**7)], SONG_MS
    ) == [Stretch(LOW, 0, 10**7)]


def test_move_that_was_back_after_more_than_a_song_is_not_of_the_moment() -> None:
    stood = [Stretch(LOW, 0, 100), Stretch(HIGH, 100, 101 + SONG_MS), Stretch(LOW, 101 + SONG_MS, 10**7)]

    assert without_moments(stood, SONG_MS) == stood


def test_steps_up_of_which_none_stood_for_most_end_at_the_last_that_stood_for_a_song() -> None:
    assert minutes([(0, LOW), (40, HIGH), (50, HIGHER), (58, LOW)]) == HIGHER


@given(LINES, st.integers(0, 7_200_000))
def test_what_lasted_is_one_of_the_settings_that_stood(line: list[tuple[int, Setting]], more: int) -> None:
    lasted = lasting(stretches(line, line[-1][0] + more), line[0][0], SONG_MS)

    assert lasted in {setting for _, setting in line}


@given(LINES, st.integers(1, 7_200_000))
def test_stretches_without_moments_still_cover_all_the_time(
    line: list[tuple[int, Setting]], more: int
) -> None:
    end_ms = line[-1][0] + more

    settled = without_moments(stretches(line, end_ms), SONG_MS)

    assert settled[0].from_ms == line[0][0]
    assert settled[-1].to_ms == end_ms
    assert all(one.to_ms == after.from_ms for one, after in pairwise(settled))
    assert settled[-1].setting == line[-1][1]


@given(LINES, st.integers(0, 240_000), st.integers(2 * 7_200_000, 10**8), SETTINGS)
def test_move_taken_back_within_a_song_changes_nothing(
    line: list[tuple[int, Setting]], held_ms: int, end_ms: int, moment: Setting
) -> None:
    last_ms, last = line[-1]
    away_ms = last_ms + SONG_MS + 1  # so that the moment is no part of an earlier coming back
    with_moment = [*line, (away_ms, moment), (away_ms + held_ms, last)]

    assert lasting(stretches(with_moment, end_ms), 0, SONG_MS) == lasting(stretches(line, end_ms), 0, SONG_MS)


@pytest.fixture
def stage() -> Stage:
    return small_stage()


def test_what_lasted_is_looked_at_from_the_mark_on_and_forgets_an_undone_move(stage: Stage) -> None:
    before_ms = stage.show.at_ms
    stage.correct("front", "voice", level=-80)
    stage.mark()
    stage.wait(1800)
    decision = stage.done(stage.ask("front", "voice", 30))
    stage.wait(60)
    stage.undo(decision)
    stage.wait(1800)
    stage.done(stage.ask("front", "drums", 30))

    lasted = what_lasted(stage.show, stage.log, stage.now_ms)

    assert before_ms < stage.now_ms
    front = lasted["front"].settings
    assert front["voice"].level_tenths == -80
    assert front["drums"] == stage.at(stage.show.revision - 2).position("front", "drums").setting
    assert lasted.keys() == stage.show.mixes.keys()
    assert lasted["ears"].settings.keys() == {None, *stage.show.levels["ears"].sends}


def test_what_lasted_of_an_evening_ended_just_now_is_what_stands(stage: Stage) -> None:
    """The mark is set last, so that nothing but what stands has stood since."""
    stage.undo(stage.done(stage.ask("front", "voice", 30)))
    stage.done(stage.ask("ears", "drums", -20, musician="bass"))
    stage.correct("ears", "voice", pan=40)
    stage.do(c.PutMix(replace(stage.show.mix("ears"), is_fed_mono=True, auxes=())))
    stage.do(c.RemoveSend("front", "drums"))
    stage.wait(60)
    stage.mark()
    stage.wait(600)

    lasted = what_lasted(stage.show, stage.log, stage.now_ms)

    assert lasted == {mix: Lasted(standing_settings(levels)) for mix, levels in stage.show.levels.items()}


def kept_now(stage: Stage, mix: str) -> KeptMix:
    return keep(Band("b", "B"), stage.show, ToKeep((mix,), "Now"), ["k1"], stage.now_ms).kept[0]


def test_kept_mix_that_nobody_moved_since_has_no_difference_and_nothing_to_set(stage: Stage) -> None:
    kept = kept_now(stage, "front")

    assert since_kept(stage.show, "front", kept) == ()
    assert to_set(stage.show, kept).moves == ()


def test_difference_since_kept_says_then_and_now_and_bringing_back_goes_the_other_way(stage: Stage) -> None:
    kept = kept_now(stage, "front")
    before = stage.show.position("front", "voice").setting
    stage.correct("front", "voice", level=-90)

    now = replace(before, level_tenths=-90)
    assert since_kept(stage.show, "front", kept) == (Difference("voice", before, now),)
    assert to_set(stage.show, kept).moves == (Difference("voice", now, before),)


def test_bringing_back_sets_nothing_and_what_is_entered_stands_as_it_was_kept(stage: Stage) -> None:
    kept = kept_now(stage, "ears")
    stage.mark()
    stage.correct("ears", "voice", level=-90, pan=40)
    stage.correct("ears", None, level=-30)

    moves = to_set(stage.show, kept).moves
    stage.do(c.EnterSettings("ears", tuple((one.source, one.now) for one in moves if one.now)))

    assert standing_settings(stage.show.levels["ears"]) == kept_settings(kept)


def test_bringing_back_says_what_goes_up_in_a_wedge_and_can_ring(stage: Stage) -> None:
    stage.correct("front", "guitar", level=-100)
    kept = kept_now(stage, "front")
    stage.correct("front", "voice", level=-300)
    stage.correct("front", "guitar", level=-300)
    stage.correct("front", "drums", level=-50)

    assert stage.show.sources["guitar"].kind is SourceKind.DIRECT
    assert to_set(stage.show, kept).raised == ("voice",)


def test_kept_source_that_was_removed_is_told_and_the_rest_comes_back(stage: Stage) -> None:
    kept = kept_now(stage, "front")
    stage.do(c.RemoveSource("voice"))
    stage.correct("front", "drums", level=-90)

    back = to_set(stage.show, kept)

    assert back.not_here == ("voice",)
    assert [one.source for one in back.moves] == ["drums"]


def test_mix_kept_as_a_wedge_comes_back_low_to_in_ears_and_says_so(stage: Stage) -> None:
    stage.correct("front", "voice", level=0)
    kept = kept_now(stage, "front")
    stage.do(c.PutMix(replace(stage.show.mix("front"), output=Output.IN_EAR_PAIR, auxes=())))

    back = to_set(stage.show, kept)

    assert back.is_converted
    assert all(one.now is not None and one.now.level_tenths <= -100 for one in back.moves)


def test_latest_kept_is_the_newest_of_the_mix_for_the_song_alone(stage: Stage) -> None:
    kept = kept_now(stage, "front")
    older = replace(kept, id="k0", kept_at_ms=kept.kept_at_ms - 1)
    for_song = replace(kept, id="k2", song="blue", kept_at_ms=kept.kept_at_ms + 1)
    band = Band("b", "B", kept=(kept, older, for_song))

    assert latest_kept(band, "front") == kept
    assert latest_kept(band, "front", "blue") == for_song
    assert latest_kept(band, "ears") is None


def test_difference_of_a_send_that_only_one_has_is_none_on_the_other_side() -> None:
    assert differences({None: LOW}, {None: LOW, "kick": HIGH}) == (Difference("kick", None, HIGH),)


@given(
    st.dictionaries(st.sampled_from([None, "kick", "bass", "voice"]), SETTINGS),
    st.dictionaries(st.sampled_from([None, "kick", "bass", "voice"]), SETTINGS),
)
def test_differences_lead_from_what_stood_then_to_what_stands_now(
    then: dict[str | None, Setting], now: dict[str | None, Setting]
) -> None:
    moved = dict(then)
    for one in differences(then, now):
        moved.pop(one.source, None)
        moved |= {one.source: one.now} if one.now is not None else {}

    assert moved == now


def test_kept_mix_is_renamed_and_removed_by_its_id(stage: Stage) -> None:
    band = Band("b", "B", kept=(kept_now(stage, "front"),))

    assert with_kept_renamed(band, "k1", " Wet  halls ").kept[0].name == "Wet halls"
    assert without_kept(band, ["k1"]).kept == ()
    with pytest.raises(UnknownKeptMix):
        without_kept(band, ["k1", "k2"])


def test_line_up_keeps_what_a_kept_mix_needs_and_no_more(stage: Stage) -> None:
    band = keep(Band("b", "B"), stage.show, ToKeep(("front",), "All"), ["k1"], stage.now_ms)
    stage.do(c.RemoveMix("front"))
    stage.do(c.RemoveSource("voice"))
    stage.do(c.RemoveMusician("singer"))
    stage.do(c.RemoveMix("ears"))

    after = with_line_up(band, stage.show)

    assert [mix.id for mix in after.mixes] == ["front"]
    assert "singer" in {one.id for one in after.musicians}
    assert after.sources[-1].id == "voice"
    assert with_line_up(replace(band, kept=()), stage.show).mixes == ()


def test_line_up_taken_over_twice_is_the_same(stage: Stage) -> None:
    once = with_line_up(Band("b", "B"), stage.show)

    assert with_line_up(once, stage.show) == once
