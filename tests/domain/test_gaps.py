"""Gaps: how long they usually are, and the plan for what is left of one."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import song_commands as so
from monreq.domain.gaps import UsualGap, left_s, usual_gap
from monreq.domain.queue import planned_queue
from monreq.domain.show import Show
from tests.support.stage import Stage


def with_gaps(*gaps_s: float) -> Show:
    return Show("show1", gaps_ms=tuple(round(gap * 1000) for gap in gaps_s))


def fits(stage: Stage) -> tuple[int, list[str | None]]:
    planned = planned_queue(stage.show)
    return planned.fits, [row.key.source for row in planned.rows if row.key in planned.later]


@pytest.mark.parametrize(
    ("gaps", "usual"),
    [
        ((), UsualGap(30, 0)),
        ((50, 52), UsualGap(30, 0)),
        ((50, 52, 54), UsualGap(52, 3)),
        ((50, 52, 54, 290), UsualGap(53, 4)),
        ((50, 52, 1, 301), UsualGap(30, 0)),  # a mistaken key and a break tell nothing
        ((200,) * 12 + (40,) * 12, UsualGap(40, 12)),
    ],
)
def test_usual_gap_is_the_settings_until_enough_were_measured(gaps: Sequence[float], usual: UsualGap) -> None:
    assert usual_gap(with_gaps(*gaps)) == usual


@given(st.lists(st.floats(5, 300), min_size=3, max_size=12))
def test_usual_gap_lies_within_those_measured(gaps: list[float]) -> None:
    assert min(gaps) - 1 <= usual_gap(with_gaps(*gaps)).gap_s <= max(gaps) + 1


def test_gap_shrinks_while_it_lasts_and_is_whole_while_a_song_runs(stage: Stage) -> None:
    before = left_s(stage.show, stage.now_ms)
    stage.do(so.BeginSong())
    stage.wait(200)
    running = left_s(stage.show, stage.now_ms)
    stage.do(so.BeginGap())

    left = [left_s(stage.show, stage.now_ms + after_ms) for after_ms in (0, 12_000, 31_000)]

    assert (before, running, left) == (30, 30, [30, 18, 1])


def test_plan_says_what_fits_and_shrinks_as_the_gap_goes_by(stage: Stage) -> None:
    stage.do(so.BeginSong())
    for source in ("voice", "drums", "guitar"):
        stage.ask("front", source, 10)
    whole = fits(stage)
    stage.wait(200)
    stage.do(so.BeginGap())
    begun = fits(stage)
    stage.wait(24)

    # one of them took 24 of the 30 s: of the 6 that are left, one move of about 4 s can be made
    stage.done(stage.rows[0].requests[0].id)

    assert (whole, begun) == ((3, []), (3, []))
    assert fits(stage)[0] == 1
    assert len(fits(stage)[1]) == 1


def test_nothing_fits_any_more_when_the_usual_gap_is_over(stage: Stage) -> None:
    stage.do(so.BeginSong())
    stage.ask("front", "voice", 10)
    stage.ask("front", "drums", 10)
    stage.do(so.BeginGap())
    stage.wait(60)

    stage.done(stage.rows[0].requests[0].id)

    assert fits(stage)[0] == 0


def test_requests_of_a_song_stay_behind_the_plan_in_the_order_of_asking(stage: Stage) -> None:
    stage.do(c.ChangeSettings(replace(stage.show.settings, gap_s=12)))
    stage.ask("front", "voice", 10)
    stage.do(so.BeginSong())
    stage.do(so.BeginGap())
    stage.wait(1)
    for source in ("guitar", "drums"):
        stage.ask("front", source, 10)

    assert [row.key.source for row in stage.rows] == ["voice", "guitar", "drums"]


def test_clock_that_was_set_back_makes_a_gap_no_longer_than_usual(stage: Stage) -> None:
    stage.do(so.BeginSong())
    stage.do(so.BeginGap())

    assert left_s(stage.show, stage.now_ms - 60_000) == usual_gap(stage.show).gap_s
