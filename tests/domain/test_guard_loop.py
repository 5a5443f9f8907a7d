"""How far up is suggested by what the loops of a wedge leave, each and together, and what is said about it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.guard_loop import loop_limits
from monreq.domain.margins import margin_of
from monreq.domain.requests import Call
from monreq.domain.setup import Settings, Source, SourceKind
from monreq.domain.suggest import Suggestion
from tests.support.loops import together_db
from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage() -> Stage:
    """A wedge with all its margins read while all three mics were open: the voice's 9 dB, the others' 20."""
    stage = small_stage()
    stage.read_margin("front", "voice", 90, open_mics=3)
    for source in ("drums", "talk"):
        stage.read_margin("front", source, 200, open_mics=3)
    return stage


# The figures below a tenth or more under one mic's own margin are worked by hand: what the other two bring, read at
# 20 dB with all three open, is in the sum that keeps the reserve.


def suggestion(stage: Stage, source: str | None, mix: str = "front") -> Suggestion:
    row = stage.row(mix, source)
    assert row is not None
    return row.suggestion


@pytest.mark.parametrize(("asked", "move"), [(10, 10), (60, 60), (70, 60)])
def test_a_measured_mic_may_rise_by_a_whole_trip_within_its_margin(
    stage: Stage, asked: int, move: int
) -> None:
    stage.read_margin("front", "voice", 100, open_mics=3)

    stage.ask("front", "voice", asked)

    assert suggestion(stage, "voice").move == move


@pytest.mark.parametrize(
    ("margin", "move", "code", "together"),
    [
        (85, 54, CautionCode.MARGIN_SHORT, 80),
        (61, 30, CautionCode.LOW_MARGIN, 59),
        (60, 29, CautionCode.LOW_MARGIN, 58),
    ],
)
def test_a_raise_that_would_go_into_the_reserve_is_cut_and_says_so(
    stage: Stage, margin: int, move: int, code: CautionCode, together: int
) -> None:
    stage.read_margin("front", "voice", margin, open_mics=3)

    stage.ask("front", "voice", 60)

    assert suggestion(stage, "voice") == Suggestion(move, (Caution(code, move, together),))


def test_a_low_margin_is_said_even_where_it_cuts_nothing(stage: Stage) -> None:
    stage.read_margin("front", "voice", 50, open_mics=3)

    stage.ask("front", "voice", 10)

    assert suggestion(stage, "voice") == Suggestion(10, (Caution(CautionCode.LOW_MARGIN, 19, 48),))


@pytest.mark.parametrize("margin", [30, 29, 0])
def test_at_the_reserve_nothing_is_suggested(stage: Stage, margin: int) -> None:
    stage.read_margin("front", "voice", margin, open_mics=3)

    stage.ask("front", "voice", 10)

    found = suggestion(stage, "voice")
    assert (found.move, found.cautions[0]) == (0, Caution(CautionCode.AT_RESERVE, 0, margin))


def test_a_stale_margin_is_trusted_no_further_than_none(stage: Stage) -> None:
    stage.make_stale("front")
    stage.ask("front", "voice", 60)
    high = suggestion(stage, "voice")
    stage.correct("front", "voice", level=-155)

    low = suggestion(stage, "voice")

    assert high == Suggestion(30, (Caution(CautionCode.MARGIN_STALE, 30, 90),))
    # Worked by hand: 4.5 dB up, all together have 4.36 dB left and the voice may go up by 1.42.
    assert low == Suggestion(
        14, (Caution(CautionCode.LOW_MARGIN, 14, 43), Caution(CautionCode.MARGIN_STALE, 15, 45))
    )


def test_a_raise_of_the_output_is_bounded_by_the_least_margin_in_the_wedge(stage: Stage) -> None:
    stage.read_margin("front", "drums", 55, open_mics=3)

    stage.ask("front", None, 60)

    assert suggestion(stage, None) == Suggestion(15, (Caution(CautionCode.LOW_MARGIN, 15, 45),))


def test_a_raise_of_the_output_is_little_trusted_while_one_mic_is_not_measured() -> None:
    stage = small_stage()
    stage.read_margin("front", "voice", 200, open_mics=3)

    stage.ask("front", None, 60)

    not_measured = Caution(CautionCode.MARGIN_NOT_MEASURED, 30, source="drums")
    assert suggestion(stage, None) == Suggestion(30, (not_measured,))


def test_two_bounds_on_the_output_are_said_the_tightest_first(stage: Stage) -> None:
    stage.source("horn")
    stage.read_margin("front", "drums", 40, open_mics=4)

    stage.ask("front", None, 60)

    cautions = (
        Caution(CautionCode.LOW_MARGIN, 0, 34),  # 0.4 dB are not worth a hand
        Caution(CautionCode.MARGIN_NOT_MEASURED, 30, source="horn"),
    )
    assert suggestion(stage, None) == Suggestion(0, cautions)


def test_margins_bind_no_in_ear_pair(stage: Stage) -> None:
    assert list(loop_limits(stage.show, "ears", ["voice", "drums"])) == []


def test_lowering_is_never_bounded_by_a_margin(stage: Stage) -> None:
    stage.read_margin("front", "voice", 0, open_mics=3)

    stage.ask("front", "voice", -40)

    assert suggestion(stage, "voice") == Suggestion(-40)


def test_reserve_of_the_show_is_kept(stage: Stage) -> None:
    stage.do(c.ChangeSettings(Settings(reserve_tenths=70)))

    stage.ask("front", "voice", 60)

    assert suggestion(stage, "voice").move == 16


def test_a_raise_asked_beside_a_planned_preamp_keeps_the_reserve_once_all_is_done(stage: Stage) -> None:
    request = stage.ask("front", "voice", 120)
    change = stage.plan_preamp("voice", 60)

    stage.done(request, stage.compensating(change)["front"])
    stage.done(stage.compensating(change)["ears"])
    stage.turn_preamp(change)

    assert margin_of(stage.show, "front", "voice").left_db == pytest.approx(3.1)


def test_a_raise_of_the_output_before_the_sends_make_up_for_a_lowered_preamp_keeps_the_reserve(
    stage: Stage,
) -> None:
    change = stage.plan_preamp("voice", -60)
    stage.turn_preamp(change)

    stage.done(stage.ask("front", None, 120))
    made_up = suggestion(stage, "voice")
    stage.done(stage.compensating(change)["front"])

    assert (stage.level("front", None), made_up.move) == (
        55,
        5,
    )  # the output brought most of the voice back already
    # Told as if the 5.5 dB that still wait to be made up for were done: above the reserve of 3 dB.
    assert margin_of(stage.show, "front", "voice").left_db == pytest.approx(3.5)


@given(
    st.integers(0, 150),
    st.lists(st.tuples(st.sampled_from(["voice", None]), st.integers(1, 120)), max_size=8),
    st.integers(1, 30),
)
def test_suggested_raises_one_after_another_never_go_into_the_reserve(
    margin: int, asked: list[tuple[str | None, int]], mics: int
) -> None:
    stage = small_stage()
    for source in ("voice", "drums", "talk"):
        stage.read_margin("front", source, margin)
    stage.open_mics(mics)
    before = [margin_of(stage.show, "front", "voice").left_db, together_db(stage.show, "front")]

    for place, amount in asked:
        stage.done(stage.ask("front", place, amount))

    left = [margin_of(stage.show, "front", "voice").left_db, together_db(stage.show, "front")]
    for was, now in zip(before, left, strict=True):
        assert was is not None
        assert now is not None
        assert now >= min(was, 3.0) - 1e-9


def test_output_is_held_back_by_all_mics_that_were_read_alone_together() -> None:
    stage = small_stage()
    for source in ("voice", "drums", "talk"):
        stage.read_margin("front", source, 60)
    stage.ask("front", None, 30)

    row = stage.row("front", None)

    assert row is not None
    assert row.suggestion == Suggestion(0, (Caution(CautionCode.AT_RESERVE, 0, 12, "voice"),))


def test_three_mics_read_with_each_other_open_ring_sooner_when_all_go_up() -> None:
    """Worked by hand: 6 dB each, S = 3 / 2.981, G = S / (1 + S) = 0.502: 3.0 dB together, 3 of them reserve."""
    stage = small_stage()
    for source in ("voice", "drums", "talk"):
        stage.read_margin("front", source, 60, open_mics=3)
    stage.ask("front", None, 30)

    row = stage.row("front", None)

    assert row is not None
    assert row.suggestion.move == 0


def test_raise_of_one_mic_leaves_the_reserve_to_all_that_are_on_together() -> None:
    """Worked by hand: four loops of 9 dB are 9 - 10 lg 4 = 2.98 dB together, which is within the reserve of 3 dB."""
    stage = small_stage()
    stage.source("horn")
    for source in ("voice", "drums", "talk", "horn"):
        stage.read_margin("front", source, 90)
    stage.ask("front", "voice", 60)

    assert suggestion(stage, "voice").move == 0


def test_unmeasured_mic_comes_no_further_than_its_bound_in_all_its_raises_together() -> None:
    stage = small_stage()
    stage.put("front", "voice", -200)

    moves = []
    for _ in range(3):
        stage.wait(600)
        decision = stage.done(stage.ask("front", "voice", 20))
        moves.append(stage.show.decisions[decision].done)

    assert moves == [20, 10, 0]
    assert suggestion_after(stage) == Suggestion(0, (Caution(CautionCode.MARGIN_NOT_MEASURED, 0),))


def suggestion_after(stage: Stage) -> Suggestion:
    stage.ask("front", "voice", 20)
    return suggestion(stage, "voice")


def test_what_squealed_is_not_suggested_up_to_there_again_until_it_is_rung_out(stage: Stage) -> None:
    stage.call("front", Call.SQUEAL)
    stage.ask("front", "voice", 20)
    at_the_squeal = suggestion(stage, "voice")
    stage.correct("front", "voice", level=-240)
    lower = suggestion(stage, "voice")
    stage.read_margin("front", "voice", 90, open_mics=3)

    assert (at_the_squeal.move, at_the_squeal.cautions[0].code) == (0, CautionCode.AFTER_SQUEAL)
    assert lower.move == 10
    assert suggestion(stage, "voice") == Suggestion(20)


def test_return_spends_the_margin_that_a_mic_which_may_feed_it_spends(stage: Stage) -> None:
    stage.source("reverb", kind=SourceKind.RETURN)
    stage.read_margin("front", "reverb", 90, open_mics=3)

    stage.turn_preamp(stage.plan_preamp("voice", 40), though_rows_wait=True)

    assert margin_of(stage.show, "front", "reverb").left_db == pytest.approx(5.0)


def test_pickup_in_a_body_that_sounds_rings_like_a_mic_and_another_does_not(stage: Stage) -> None:
    stage.do(c.PutSource(Source("cello", "Cello", SourceKind.DIRECT, is_acoustic=True)))
    for source in ("cello", "guitar"):
        stage.ask("front", source, 60)

    assert suggestion(stage, "cello") == Suggestion(30, (Caution(CautionCode.MARGIN_NOT_MEASURED, 30),))
    assert suggestion(stage, "guitar") == Suggestion(60)
