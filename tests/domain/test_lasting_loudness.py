"""What lasted keeps its balance and the loudness of the mark, so that no evening begins where tired ears ended the last."""

from collections.abc import Callable

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from monreq.domain.band import Band
from monreq.domain.carry_choices import match_band, proposed
from monreq.domain.carry_over import carry_over
from monreq.domain.decibels import to_db
from monreq.domain.ears import louder_ear_db
from monreq.domain.keeping import ToKeep, keep
from monreq.domain.lasting import Lasted, what_lasted
from monreq.domain.levels import Levels, Position
from monreq.domain.show import Show
from tests.support.stage import Stage, small_stage

MIX = "front"
HOUR_S = 3600.0
ASKS = st.lists(
    st.tuples(st.sampled_from([None, "voice", "drums", "guitar"]), st.sampled_from([10, 30, 60, -30])),
    max_size=6,
)


def loudness_db(show: Show, levels: Levels) -> float:
    """Return what a mix comes to at the louder ear: all of it, click and pans too. [dB]."""
    found = louder_ear_db(show.sources, levels, show.gains)
    assert found is not None
    return found


def lasted(stage: Stage, mix: str = MIX) -> Lasted:
    return what_lasted(stage.show, stage.log, stage.now_ms)[mix]


def louder(stage: Stage, source: str | None, change: int, mix: str = MIX) -> None:
    stage.done(stage.ask(mix, source, change), change=change)


def kept_in(band: Band, stage: Stage, number: int) -> Band:
    proposals = what_lasted(stage.show, stage.log, stage.now_ms)
    wanted = ToKeep(
        tuple(proposals),
        stage.show.name,
        settings={mix: one.settings for mix, one in proposals.items()},
        lowered={mix: one.lowered_tenths for mix, one in proposals.items()},
    )
    ids = [f"k{number}{place}" for place in range(len(proposals))]
    return keep(band, stage.show, wanted, ids, stage.now_ms)


def next_show(band: Band, number: int, now_ms: int) -> Stage:
    stage = Stage(f"Show {number}", f"show{number}")
    stage.now_ms = now_ms
    stage.do(carry_over(band, stage.show, proposed(band, stage.show, match_band(band, stage.show))).command)
    return stage


@pytest.fixture
def stage() -> Stage:
    return small_stage()


def test_plus_three_twice_every_evening_begins_no_show_louder() -> None:
    """What it once did: the output stood at -10, -4, +2, +8 at the beginning of four shows."""
    band, stage, outputs = Band("b", "B"), small_stage(), []
    for number in range(10):
        outputs.append(stage.level(MIX, None))
        stage.mark()
        for _ in range(2):
            stage.wait(60)
            louder(stage, None, 30)
        stage.wait(HOUR_S)
        band = kept_in(band, stage, number)
        stage = next_show(band, number, stage.now_ms)

    assert outputs == [0] * 10


def test_balance_is_kept_as_it_lasted_and_the_output_takes_what_it_gained(stage: Stage) -> None:
    stage.mark()
    louder(stage, "voice", 60)
    stage.wait(HOUR_S)

    kept = lasted(stage)

    # By hand: four equal sources, one up by 6.0 dB, are 10 lg((3 + 3.98) / 4) = 2.42 dB more, up to a tenth: 2.5.
    assert kept.settings["voice"].level_tenths == -140
    assert (kept.settings[None].level_tenths, kept.lowered_tenths) == (-25, 25)


def test_mix_that_became_quieter_stays_so(stage: Stage) -> None:
    stage.mark()
    louder(stage, None, -60)
    stage.wait(HOUR_S)

    assert lasted(stage).settings[None].level_tenths == -60
    assert lasted(stage).lowered_tenths == 0


def test_second_mark_forgets_nothing_of_the_first(stage: Stage) -> None:
    stage.mark()
    louder(stage, None, 30)
    stage.wait(HOUR_S)
    stage.mark()
    stage.wait(HOUR_S)

    assert lasted(stage).settings[None].level_tenths == 0


def test_without_a_mark_it_is_as_loud_as_it_started(stage: Stage) -> None:
    stage.put(MIX, None, -20)
    louder(stage, None, 30)
    stage.correct(MIX, None, 40)
    stage.wait(HOUR_S)

    assert lasted(stage).settings[None].level_tenths == -20


def test_preamp_that_was_compensated_gained_nothing(stage: Stage) -> None:
    stage.mark()
    change = stage.plan_preamp("voice", 100)
    for row in stage.compensating(change).values():
        stage.done(row, change=-100)
    stage.turn_preamp(change)
    stage.wait(HOUR_S)

    assert lasted(stage).lowered_tenths == 0
    assert lasted(stage).settings["voice"].level_tenths == -300


def test_click_that_was_raised_is_loudness_too_for_an_ear(stage: Stage) -> None:
    stage.mark()
    louder_click = stage.ask("ears", "click", 60, "bass")
    stage.done(louder_click, change=60)
    stage.wait(HOUR_S)

    kept = lasted(stage, "ears")

    # By hand: five equal sources, one up by 6.0 dB, are 10 lg((4 + 3.98) / 5) = 2.03 dB more, up to a tenth: 2.1.
    assert kept.settings["click"].level_tenths == -190
    assert (kept.settings[None].level_tenths, kept.lowered_tenths) == (-121, 21)


def test_mix_that_was_panned_to_one_side_begins_no_louder_in_that_ear(stage: Stage) -> None:
    stage.mark()
    for source in ("voice", "drums", "guitar", "talk", "click"):
        stage.correct("ears", source, pan=-100)
    stage.wait(HOUR_S)

    # By hand: twice the power in the left ear is 3.01 dB more, up to a tenth: 3.1.
    assert lasted(stage, "ears").lowered_tenths == 31


def test_output_that_ended_off_comes_on_no_louder_than_at_the_mark(stage: Stage) -> None:
    stage.mark()
    louder(stage, None, 60)
    stage.correct(MIX, None, is_on=False)
    stage.wait(HOUR_S)

    kept = lasted(stage).settings[None]

    assert (kept.level_tenths, kept.is_on) == (0, False)


def test_levels_of_another_output_did_not_last(stage: Stage) -> None:
    stage.put(MIX, "voice", -30)
    stage.mark()
    stage.wait(HOUR_S)
    stage.in_ears(MIX, "singer")
    stage.wait(60)

    assert lasted(stage).settings["voice"].level_tenths == -250
    assert lasted(stage).settings[None].level_tenths == -100


def test_mix_that_was_put_after_the_mark_lasts_as_it_stands(stage: Stage) -> None:
    stage.mark()
    stage.wedge("side", "drummer")
    stage.correct("side", "voice", -100, is_on=True)
    stage.wait(HOUR_S)

    found = lasted(stage, "side")

    assert (found.settings["voice"], found.lowered_tenths) == (stage.setting("side", "voice"), 0)


def test_mix_on_another_output_since_the_mark_is_not_compared_with_it(stage: Stage) -> None:
    stage.mark()
    stage.in_ears(MIX, "singer")
    louder(stage, "voice", 30)
    stage.wait(HOUR_S)

    assert (lasted(stage).settings[None].level_tenths, lasted(stage).lowered_tenths) == (-100, 0)


GREEDY = st.lists(
    st.one_of(
        st.tuples(st.sampled_from([None, "voice", "drums", "guitar", "click", "talk"]), st.just(60)),
        st.tuples(
            st.sampled_from(["voice", "drums", "guitar", "click", "talk"]), st.sampled_from(["left", "right"])
        ),
    ),
    min_size=1,
    max_size=12,
)


def _greedy_evening(stage: Stage, asks: list[tuple[str | None, int | str]]) -> None:
    """Ask five times for more of what is asked for, each done as suggested, and move what is to move to one side."""
    for source, wish in asks:
        if isinstance(wish, str):
            stage.correct("ears", source, pan=-100 if wish == "left" else 100)
            continue
        for _ in range(5):
            stage.ask("ears", source, wish, "drummer")
            for row in stage.rows:
                stage.done(*(request.id for request in row.requests))
            stage.wait(40)


@given(evenings=st.lists(GREEDY, min_size=10, max_size=10))
@settings(max_examples=10, phases=[Phase.explicit, Phase.reuse, Phase.generate])
def test_ten_shows_of_greedy_musicians_never_begin_louder_at_the_louder_ear_than_the_mark_before(
    evenings: list[list[tuple[str | None, int | str]]],
) -> None:
    band, stage = Band("b", "B"), small_stage()
    for number, asks in enumerate(evenings):
        stage.mark()
        marked = loudness_db(stage.show, stage.show.levels["ears"])
        _greedy_evening(stage, asks)
        stage.wait(2 * HOUR_S)
        band = kept_in(band, stage, number)
        stage = next_show(band, number, stage.now_ms)

        assert loudness_db(stage.show, stage.show.levels["ears"]) <= marked + 1e-6


def _evening(stage: Stage, asks: list[tuple[str | None, int]], hurry: Callable[[int], float]) -> None:
    for place, (source, change) in enumerate(asks):
        if (
            stage.show.position(MIX, source).setting.level_tenths + change
            <= stage.show.settings.highest_tenths
        ):
            louder(stage, source, change)
        stage.wait(hurry(place))


@given(evenings=st.lists(st.tuples(ASKS, ASKS, st.booleans()), min_size=10, max_size=10))
# Shrinking ten evenings takes minutes; what failed is printed whole.
@settings(max_examples=15, phases=[Phase.explicit, Phase.reuse, Phase.generate])
def test_every_show_of_ten_begins_as_loud_as_the_one_before_was_marked_or_as_quiet_as_it_ended(
    evenings: list[tuple[list[tuple[str | None, int]], list[tuple[str | None, int]], bool]],
) -> None:
    band, stage = Band("b", "B"), small_stage()
    for number, (before, after, is_remarked) in enumerate(evenings):
        _evening(stage, before, lambda _: 30)
        stage.mark()
        marked = loudness_db(stage.show, stage.show.levels[MIX])
        _evening(stage, after, lambda place: 20 + 900 * place)
        if is_remarked:
            stage.mark()
        stage.wait(HOUR_S)
        as_it_lasted = _without_lowering(stage)
        band = kept_in(band, stage, number)
        stage = next_show(band, number, stage.now_ms)

        started = loudness_db(stage.show, stage.show.levels[MIX])
        expected = min(marked, as_it_lasted)
        assert expected - 0.1 < started <= expected + 1e-6


def _without_lowering(stage: Stage) -> float:
    kept = lasted(stage)
    sends = {one: Position(setting) for one, setting in kept.settings.items() if one is not None}
    held = loudness_db(stage.show, Levels(Position(kept.settings[None]), sends))
    return held + to_db(kept.lowered_tenths)
