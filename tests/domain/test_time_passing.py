"""What time alone changes in what is suggested: when, and that nothing changes in between."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import measuring_commands as m
from monreq.domain import song_commands as so
from monreq.domain.queue import queue, row_of
from monreq.domain.requests import RowKey
from monreq.domain.show import Show
from monreq.domain.suggest import Suggestion
from monreq.domain.time_passing import as_of, next_change_ms
from monreq.domain.ways import same_loudness_move
from tests.support.ear_levels import AT_THE_EAR, COUPLER, measured_stage, under
from tests.support.stage import Stage, small_stage

HOUR_MS, GAP_MS, SONG_MS = 3_600_000, 30_000, 240_000
OFF_DB = 1.65 * math.hypot(2.0, 1.5, 1.0)
"""U of a level that was typed: half an hour's sampling, instrument, position (ISO 9612:2009, C.3, C.5, C.6, clause 14). [dB]"""


def suggested(show: Show) -> dict[RowKey, tuple[Suggestion, int]]:
    """Return what is suggested for each row, plainly and at the same loudness."""
    rows = [row_of(show, key, requests) for key, requests in show.open_rows().items()]
    return {row.key: (row.suggestion, same_loudness_move(show, row)) for row in rows}


def at(show: Show, at_ms: int) -> Show:
    """Return a show as if something had been recorded at a time."""
    return replace(show, at_ms=at_ms)


def move(show: Show, mix: str = "ears", source: str = "voice") -> int | None:
    (row,) = [one for one in queue(show) if (one.key.mix, one.key.source) == (mix, source)]
    return row.suggestion.move


# A day that becomes full.


def test_raise_is_suggested_until_the_day_is_full_and_not_a_moment_longer() -> None:
    """Worked by hand: 8 h / 2^((94 + U - 85) / 3) at 94 dB(A) read U too low (NIOSH 98-126, ISO 9612), less a song."""
    stage = measured_stage(940)
    stage.ask("ears", "voice", 30, "bass")

    full_ms = next_change_ms(stage.show)

    assert full_ms is not None
    assert full_ms == pytest.approx(stage.now_ms + HOUR_MS / 2 ** (OFF_DB / 3) - SONG_MS, abs=1)
    assert (move(as_of(stage.show, full_ms - 1)), move(as_of(stage.show, full_ms))) == (30, 0)
    assert next_change_ms(as_of(stage.show, full_ms)) is None


@pytest.mark.parametrize(
    ("rule", "hours"),
    [
        ("niosh", 8 / 2 ** ((9 + OFF_DB) / 3)),
        ("eu", 8 / 10 ** ((9 + OFF_DB) / 10)),
        ("osha", 8 / 2 ** ((4 + OFF_DB) / 5)),
    ],
)
def test_moment_is_that_of_the_shows_rule(rule: str, hours: float) -> None:
    """Sources: NIOSH 98-126; 2003/10/EC with ISO 1999; 29 CFR 1910.95 App. A. 94 dB(A), read U too low, less a song."""
    stage = measured_stage(940)
    under(stage, rule)  # type: ignore[arg-type]  # what the table above gives
    stage.ask("ears", "voice", 30, "bass")

    assert next_change_ms(stage.show) == pytest.approx(stage.now_ms + hours * HOUR_MS - SONG_MS, abs=1)


def test_moment_comes_sooner_once_the_mix_is_louder() -> None:
    """Worked by hand: half of the time is over, and 3 dB more leave half of the rest (NIOSH 98-126)."""
    stage = measured_stage(940)
    stage.wait(1800 / 2 ** (OFF_DB / 3))
    stage.correct("ears", None, level=-70)
    stage.ask("ears", "voice", 30, "bass")

    after_s = ((next_change_ms(stage.show) or 0) - stage.now_ms) / 1000

    assert after_s == pytest.approx(900 / 2 ** (OFF_DB / 3) - SONG_MS / 1000, abs=10)


@pytest.mark.parametrize("level", [740, 800])
def test_day_that_ends_before_it_is_full_has_no_moment(level: int) -> None:
    """Worked by hand: at 80 + U dB(A) a day is full after 9.1 h, at 74 + U after 36, but counted are 24 (NIOSH 98-126)."""
    stage = measured_stage(level)
    stage.ask("ears", "voice", 30, "bass")

    assert (next_change_ms(stage.show) is None) == (level == 740)


def test_level_read_in_a_canal_has_no_moment() -> None:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("ears", 1000, COUPLER, is_field_level=False))
    stage.ask("ears", "voice", 30, "bass")

    assert next_change_ms(stage.show) is None


def test_where_nothing_waits_time_changes_nothing_that_is_suggested() -> None:
    stage = measured_stage(940)
    stage.done(stage.ask("front", "voice", 30))

    assert next_change_ms(stage.show) is None
    assert as_of(stage.show, stage.now_ms + 2 * HOUR_MS) is stage.show


# What an ear has had.


def test_ear_for_which_something_waits_is_told_anew_every_whole_minute_of_the_day() -> None:
    stage = measured_stage(940)
    stage.ask("ears", "voice", 30, "bass")
    began_ms, minute_ms = stage.now_ms, 60_000
    first_ms = began_ms - began_ms % minute_ms + minute_ms

    moments = [as_of(stage.show, first_ms + after_ms).at_ms for after_ms in (-1, 0, minute_ms - 1, minute_ms)]
    after_the_day = [as_of(stage.show, began_ms + hours * HOUR_MS).at_ms for hours in (24, 25, 90)]

    assert moments == [began_ms, first_ms, first_ms, first_ms + minute_ms]
    assert after_the_day == [began_ms + 24 * HOUR_MS] * 3


@pytest.mark.parametrize("state", ["nothing waits", "silent", "not converted"])
def test_ear_that_has_no_more_by_time_is_not_told_anew(state: str) -> None:
    stage = small_stage()
    stage.do(m.MeasureEarLevel("ears", 940, COUPLER, is_field_level=state != "not converted"))
    if state == "silent":
        stage.correct("ears", None, is_on=False)
    if state != "nothing waits":
        stage.ask("ears", "voice", -30, "bass")

    assert as_of(stage.show, stage.now_ms + HOUR_MS // 8) is stage.show


# What was raised ceases to count.


def test_without_songs_a_raise_counts_for_as_long_as_a_gap() -> None:
    stage = small_stage()
    stage.done(stage.ask("ears", "voice", 30, "bass"))
    stage.wait(1)
    stage.ask("ears", "voice", 30, "bass")

    over_ms = next_change_ms(stage.show)

    assert over_ms == stage.now_ms - 1000 + GAP_MS
    assert (move(as_of(stage.show, over_ms - 1)), move(as_of(stage.show, over_ms))) == (0, 30)


def test_raise_in_a_song_counts_until_its_end_is_said() -> None:
    stage = small_stage()
    stage.do(so.BeginSong())
    stage.done(stage.ask("ears", "voice", 30, "bass"))
    stage.ask("ears", "voice", 30, "bass")

    assert next_change_ms(stage.show) is None
    assert move(as_of(stage.show, stage.now_ms + HOUR_MS)) == 0


def test_clock_that_was_set_back_changes_nothing() -> None:
    stage = measured_stage(940)
    stage.ask("ears", "voice", 30, "bass")

    assert as_of(stage.show, stage.now_ms - HOUR_MS) is stage.show


# Whatever an evening was.


def wait(stage: Stage, dice: Callable[[int], int]) -> None:
    stage.wait([0, 1, 12, 29.999, 30, 47, 400][dice(7)])


def ask(stage: Stage, dice: Callable[[int], int]) -> None:
    mix, musician = [("front", "singer"), ("ears", "bass"), ("ears", "drummer")][dice(3)]
    source = ["voice", "guitar", None][dice(3)]
    stage.ask(mix, source, [30, 60, 10, -30][dice(4)], musician)


def answer(stage: Stage, dice: Callable[[int], int]) -> None:
    rows = list(stage.show.open_rows().values())
    if rows:
        stage.done(*(one.id for one in rows[dice(len(rows))]))


def press(stage: Stage, dice: Callable[[int], int]) -> None:
    stage.do(so.BeginSong() if dice(2) else so.BeginGap())


def measure(stage: Stage, dice: Callable[[int], int]) -> None:
    mix, how = [("ears", COUPLER), ("front", AT_THE_EAR)][dice(2)]
    stage.do(m.MeasureEarLevel(mix, [850, 1000, 1100, 1180][dice(4)], how, is_field_level=True))


@st.composite
def evenings(draw: st.DrawFn) -> Show:
    stage = small_stage()
    for mix in ("front", "ears"):
        for source in ("voice", "guitar"):
            stage.put(mix, source, -250)
    steps = draw(st.lists(st.sampled_from([wait, wait, ask, ask, answer, press, measure]), max_size=25))
    for step in (*steps, ask):
        step(stage, lambda sides: draw(st.integers(0, sides - 1)))
    return stage.show


LATER_MS = st.sampled_from([29_999, 30_000, 31_000, 60_000]) | st.integers(0, 25 * HOUR_MS)


@given(evenings(), st.floats(0, 1))
def test_before_its_moment_time_changes_nothing(show: Show, part: float) -> None:
    next_ms = next_change_ms(show)
    until_ms = show.at_ms + 24 * HOUR_MS if next_ms is None else next_ms - 1

    then = at(show, show.at_ms + int(part * (until_ms - show.at_ms)))

    assert (suggested(then), suggested(at(show, until_ms))) == (suggested(show), suggested(show))


@given(evenings(), LATER_MS)
def test_a_show_as_of_any_time_suggests_what_it_would_if_something_had_been_recorded_then(
    show: Show, after_ms: int
) -> None:
    now_ms = show.at_ms + after_ms

    as_shown = as_of(show, now_ms)

    assert show.at_ms <= as_shown.at_ms <= now_ms
    assert suggested(as_shown) == suggested(at(show, now_ms))
    assert as_of(as_shown, now_ms) is as_shown


@given(evenings(), LATER_MS, LATER_MS)
def test_every_page_drawn_between_two_moments_is_told_as_of_the_same(
    show: Show, one: int, other: int
) -> None:
    first, second = sorted((show.at_ms + one, show.at_ms + other))

    assert as_of(as_of(show, first), second).at_ms == as_of(show, second).at_ms
