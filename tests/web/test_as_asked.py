"""What a row says of the ear: what the suggested move leads to where that matters, and what the whole would."""

import pytest

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.exposure import RuleName
from monreq.domain.readings import EarMethod
from monreq.domain.requests import Kind
from monreq.domain.setup import Settings
from monreq.domain.time_passing import as_of
from monreq.web.as_asked import ear_lines
from monreq.web.clock import local_time
from monreq.web.row_view import row_view
from tests.support.group_stage import group_stage
from tests.support.queue_rows import row
from tests.support.stage import Stage, small_stage


def measured(level: int, rule: RuleName = "niosh", *, is_field_level: bool | None = None) -> Stage:
    stage = small_stage()
    stage.do(c.ChangeSettings(Settings(exposure_rule=rule)))
    stage.do(m.MeasureEarLevel("ears", level, EarMethod.COUPLER, is_field_level=is_field_level))
    return stage


def said(stage: Stage, asked: int, source: str | None = None) -> tuple[str, ...]:
    stage.ask("ears", source, asked, "bass")
    return ear_lines(stage.show, row(stage, "ears", source))


def test_a_row_says_what_the_ear_would_get_as_suggested_and_as_asked() -> None:
    """Worked by hand: 8 h / 2^((L - 85) / 3) is 7.5 min at 103 dB(A), 3.75 at 106 (NIOSH 98-126); 4.44 dB are 2.79."""
    stage = measured(1000)

    assert said(stage, 60) == (
        f"then about 103 dB(A), left today at {local_time(stage.now_ms)}: about 7 min, between 2 min and 20 min",
        f"as asked it would be 106 dB(A), left today at {local_time(stage.now_ms)}: about 3 min, between 1 min and 10 min",
    )


def test_a_row_that_was_not_drawn_anew_says_as_of_when_it_was_told() -> None:
    stage = measured(1000)
    lines = said(stage, 60)
    stage.wait(120)

    later = as_of(stage.show, stage.now_ms)

    assert local_time(stage.now_ms) in ear_lines(later, row(stage, "ears", None))[0]
    assert ear_lines(stage.show, row(stage, "ears", None)) == lines


def test_what_was_heard_already_is_taken_off_what_is_left_as_asked_too() -> None:
    """Worked by hand: 100 dB(A) for 7.5 of 15 min is half a day; of 3.75 min at 106 dB(A) 1.9 are left (NIOSH 98-126)."""
    stage = measured(1000)
    stage.wait(450)

    assert ": about 1 min, " in said(stage, 60)[-1]


def test_what_is_advised_whole_is_told_too_where_it_matters() -> None:
    assert ": about 9 min, " in said(measured(1000), 20)[0]


def test_what_was_read_in_a_coupler_is_told_without_a_time() -> None:
    assert said(measured(1000, is_field_level=False), 60) == ("as asked it would be 106 dB(A)",)


def test_where_nobody_measured_nothing_is_said() -> None:
    assert said(small_stage(), 60) == ()


@pytest.mark.parametrize(
    ("level", "asked", "is_told"),
    [
        (800, 30, False),  # lasts 4.5 h even if it was read too low
        (840, 5, False),  # 3.2 h are left
        (845, 10, True),
        (900, 5, False),  # short before, and nobody would notice
        (900, 10, True),
    ],
)
def test_a_row_is_quiet_unless_the_day_becomes_shorter_than_an_evening(
    level: int, asked: int, *, is_told: bool
) -> None:
    """Worked by hand: the careful end is 8 h / 2^((L + 4.44 - 85) / 3), an evening 3 h: L = 84.8 dB(A)."""
    lines = said(measured(level), asked)

    assert [line.startswith("then about") for line in lines] == [True] * is_told


@pytest.mark.parametrize(
    ("rule", "level", "asked", "action"),
    [("eu", 798, 10, 80), ("eu", 780, 10, None), ("osha", 870, 10, 85), ("osha", 860, 10, None)],
)
def test_a_row_says_when_an_evening_of_it_may_come_to_the_action_level(
    rule: RuleName, level: int, asked: int, action: int | None
) -> None:
    """Worked by hand with L + 4.44: 3 h are 10 lg(3/8) = 4.3 dB less over 8 h, under OSHA 16.61 lg(3/8) = 7.1 dB."""
    after = (level + asked) // 10 if (level + asked) % 10 == 0 else (level + asked) / 10

    assert said(measured(level, rule), asked) == (
        (
            f"then about {after} dB(A): 3 h of it may bring the day to the action level, {action} dB(A) over 8 h",
        )
        if action
        else ()
    )


def test_what_was_heard_already_counts() -> None:
    """Worked by hand: 83.5 dB(A), read 4.44 dB too low, lasts 4.05 h; after 1.4 of the 4.55 h at 83 2.8 h are left."""
    fresh, later = measured(830), measured(830)
    later.wait(1.4 * 3600)

    assert said(fresh, 5) == ()
    assert said(later, 5)[0].startswith("then about 83.5 dB(A), left today at ")


def test_a_source_that_comes_in_is_told_as_a_raise() -> None:
    """Worked by hand: one of five equal sources, which are 1 dB more than four; back to 85 dB(A), 2.9 h at 89.44."""
    stage = measured(850)
    stage.correct("ears", "drums", is_on=False)
    stage.ask_in("ears", "drums", "bass")

    lines = ear_lines(stage.show, row(stage, "ears", "drums", Kind.IN_OUT))

    assert [line.split(", ")[0] for line in lines] == ["then about 85 dB(A)"]


def test_a_group_is_told_as_a_raise_of_all_of_it() -> None:
    """Worked by hand: three of eight equal sources 3 dB up, 10 lg((5 + 3 * 2) / 8) = 1.4 dB."""
    stage = group_stage()
    stage.do(m.MeasureEarLevel("ears", 950, EarMethod.COUPLER))
    stage.ask("ears", "kit", 30, "bass")

    lines = ear_lines(stage.show, row(stage, "ears", "kit"))

    assert [line.split(", left")[0] for line in lines] == ["then about 96.4 dB(A)"]


def test_less_and_out_are_not_told() -> None:
    stage = measured(1000)
    stage.ask("ears", "drums", -30, "bass")
    stage.ask_out("ears", "voice", "bass")

    assert [ear_lines(stage.show, one) for one in stage.rows] == [(), ()]


def test_once_the_day_may_be_full_a_row_says_so_with_the_range() -> None:
    """Worked by hand: half an hour at 94 dB(A) is half a day (NIOSH 98-126), between 50 / 2.792 and 50 * 2.792 %."""
    stage = measured(940)
    stage.wait(1800)
    stage.ask("ears", None, 10, "bass")
    found = row(stage, "ears", None)

    full, as_asked = row_view(stage.show, found).cautions

    assert found.suggestion.move == 0
    assert (
        full
        == "this ear's day may be full before a song is over (an estimate so far: about 50 %, between 18 % and 140 %): no raise"
    )
    assert as_asked.startswith("as asked it would be 95 dB(A), left today at ")
