"""A mix that comes from another output in Prepare: low, its balance kept, and everything asked again that no longer holds."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import song_commands as so
from monreq.domain.drifts import drift_db
from monreq.domain.feedback import RESERVE_DB
from monreq.domain.requests import Kind, RowKey
from monreq.domain.setup import Output, Setting
from monreq.domain.songs import Song
from tests.support.stage import Stage, small_stage

LEVELS = st.integers(-900, 100)


@pytest.fixture
def stage() -> Stage:
    return small_stage()


def sends(stage: Stage, mix: str) -> dict[str, int]:
    return {one: held.setting.level_tenths for one, held in stage.show.levels[mix].sends.items()}


def test_wedge_made_in_ears_starts_as_low_as_a_new_pair_with_its_balance(stage: Stage) -> None:
    """What it once did: it kept output 0 and sends at -3."""
    stage.put("front", "voice", -30)
    stage.put("front", "drums", -90)
    stage.put("front", "guitar", 40, is_on=False)

    stage.in_ears("front", "singer")

    # By hand: the loudest, though off, goes from +4 to -25 dB, so that all go down by 29 dB.
    assert stage.level("front", None) == -100
    assert stage.setting("front", "guitar") == Setting(-250, is_on=False)
    assert (stage.level("front", "voice"), stage.level("front", "drums")) == (-320, -380)


def test_pair_made_a_wedge_starts_low_without_what_would_leak(stage: Stage) -> None:
    stage.put("ears", "voice", -50, pan=30)
    stage.put("ears", None, 50)
    click = stage.ask("ears", "click", 30, "bass")

    stage.wedge("ears", "bass", "drummer")

    assert stage.setting("ears", None) == Setting(0)
    assert stage.setting("ears", "voice") == Setting(-200)
    assert "click" not in stage.show.levels["ears"].sends
    assert click in stage.show.closed


def test_pair_fed_mono_starts_low_and_3_db_lower_at_the_output(stage: Stage) -> None:
    """10 lg 2 = 3 dB: both ears get the whole of what was shared between them."""
    stage.put("ears", None, -110)
    stage.put("ears", "voice", -90, pan=40)

    stage.in_ears("ears", "bass", "drummer", is_fed_mono=True)

    assert (stage.setting("ears", None), stage.setting("ears", "voice")) == (Setting(-140), Setting(-250))


def test_pair_that_is_stereo_again_stays_where_it_was(stage: Stage) -> None:
    stage.in_ears("ears", "bass", "drummer", is_fed_mono=True)
    stage.put("ears", "voice", -90)

    stage.in_ears("ears", "bass", "drummer")

    assert stage.level("ears", "voice") == -90


def test_nobody_has_confirmed_the_low_levels(stage: Stage) -> None:
    stage.correct("front", "voice", -30)

    stage.in_ears("front", "singer")

    assert stage.show.position("front", "voice").confirmed_at_ms is None


def test_what_was_said_of_packs_is_asked_again_when_they_are_others(stage: Stage) -> None:
    said = replace(stage.show.mix("ears"), has_limiter=True, is_pack_low=True)
    stage.do(c.PutMix(said))
    known = stage.show.mix("ears")

    stage.do(c.PutMix(replace(said, output=Output.WEDGE)))
    stage.do(c.PutMix(replace(said, has_limiter=True)))

    assert (known.has_limiter, known.is_pack_low) == (True, True)
    mix = stage.show.mix("ears")
    assert (mix.output, mix.has_limiter, mix.is_pack_low) == (Output.IN_EAR_PAIR, None, None)


def test_readings_are_stale_and_nothing_is_compared_with_the_mark(stage: Stage) -> None:
    stage.mark()
    stage.read_margin("front", "voice", round(RESERVE_DB * 10) + 60)

    stage.in_ears("front", "singer")

    assert stage.show.readings["front", "voice"].stale_because
    assert drift_db(stage.show, "front") is None
    assert drift_db(stage.show, "ears") == 0


def test_moves_of_a_song_that_were_reckoned_from_the_old_levels_are_gone(stage: Stage) -> None:
    stage.do(so.PutSetList((Song("blue", "Blue"),)))
    stage.do(so.PlanSongMoves("blue", (so.SongChange("front", "voice", 40),)))
    own = stage.ask("front", "drums", 10)

    stage.in_ears("front", "singer")

    assert [row.key for row in stage.rows] == [RowKey("front", "drums", Kind.LEVEL)]
    assert list(stage.show.open_requests) == [own]
    assert stage.show.waiting_song_plan is None


@given(
    levels=st.tuples(LEVELS, LEVELS, LEVELS),
    output=LEVELS,
    changes=st.lists(st.sampled_from(["wedge", "pair", "mono"]), min_size=1, max_size=4),
)
def test_no_change_of_output_makes_anything_louder_or_leaves_it_above_a_new_mix(
    levels: tuple[int, int, int], output: int, changes: list[str]
) -> None:
    stage = small_stage()
    for source, level in zip(("voice", "drums", "guitar"), levels, strict=True):
        stage.put("ears", source, level)
    stage.put("ears", None, output)

    for change in changes:
        before, out = sends(stage, "ears"), stage.level("ears", None)
        was = stage.show.mix("ears")
        if change == "wedge":
            stage.wedge("ears", "bass", "drummer")
        else:
            stage.in_ears("ears", "bass", "drummer", is_fed_mono=change == "mono")
        now = stage.show.mix("ears")

        assert all(level <= before[one] for one, level in sends(stage, "ears").items())
        assert stage.level("ears", None) <= out
        if now.output is not was.output:
            assert max(sends(stage, "ears").values()) <= (-250 if now.output is Output.IN_EAR_PAIR else -200)
            assert stage.level("ears", None) <= (-100 if now.output is Output.IN_EAR_PAIR else 0)
