"""What is left of each feedback margin of a show as sends, outputs, preamps and open mics change."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain.feedback import MarginCaution
from monreq.domain.margins import Margin, least_margin_db, margin_of, margins_in
from monreq.domain.refusals import SourceNotInMix, UnknownMix
from monreq.domain.setup import Mix, Output, Settings, SourceKind
from tests.support.stage import Stage, small_stage


@pytest.fixture
def stage() -> Stage:
    """A wedge whose voice could be raised by 9 dB with its three mics open."""
    stage = small_stage()
    stage.read_margin("front", "voice", 90, open_mics=3)
    return stage


def left(stage: Stage, source: str = "voice") -> float | None:
    return margin_of(stage.show, "front", source).left_db


def test_margin_is_what_was_read_while_nothing_moves(stage: Stage) -> None:
    assert margin_of(stage.show, "front", "voice") == Margin("voice", 9.0, None)


def test_margin_that_was_not_read_is_no_figure(stage: Stage) -> None:
    assert margin_of(stage.show, "front", "drums") == Margin("drums", None, MarginCaution.NOT_MEASURED)


def test_margin_is_spent_by_a_raise_of_the_send_and_of_the_output(stage: Stage) -> None:
    stage.correct("front", "voice", level=-185)
    stage.correct("front", None, level=20)

    assert left(stage) == pytest.approx(5.5)


def test_margin_comes_back_as_the_send_goes_down(stage: Stage) -> None:
    stage.correct("front", "voice", level=-230)

    assert left(stage) == pytest.approx(12.0)


def test_margin_of_one_mic_is_not_spent_by_another(stage: Stage) -> None:
    stage.correct("front", "drums", level=-100)

    assert left(stage) == 9.0


def test_twice_as_many_open_mics_cost_three_db(stage: Stage) -> None:
    stage.open_mics(6)

    assert left(stage) == pytest.approx(9 - 3.0103, abs=1e-4)


def test_mics_that_are_on_count_as_open_though_fewer_were_counted() -> None:
    """From memory: three paths instead of one cost 10 lg 3 = 4.77 dB, and four 6.02 dB."""
    stage = small_stage()
    stage.read_margin("front", "voice", 90, open_mics=1)
    with_three = left(stage)
    stage.source("horn")

    assert with_three == pytest.approx(9 - 4.7712, abs=1e-4)
    assert left(stage) == pytest.approx(9 - 6.0206, abs=1e-4)


def test_fewer_open_mics_give_nothing_back(stage: Stage) -> None:
    stage.open_mics(1)

    assert left(stage) == 9.0


def test_a_preamp_that_was_raised_spends_margin_until_it_is_compensated(stage: Stage) -> None:
    change = stage.plan_preamp("voice", 60)
    stage.turn_preamp(change, though_rows_wait=True)
    before = left(stage)

    stage.done(stage.compensating(change)["front"])

    assert before == pytest.approx(3.0)
    assert left(stage) == pytest.approx(9.0)


def test_a_send_lowered_for_a_preamp_gives_no_margin_while_the_gain_is_still_to_be_raised(
    stage: Stage,
) -> None:
    change = stage.plan_preamp("voice", 60)

    stage.done(stage.compensating(change)["front"])

    assert left(stage) == pytest.approx(9.0)


def test_a_preamp_turned_down_gives_no_margin_while_the_sends_are_still_to_be_raised(stage: Stage) -> None:
    change = stage.plan_preamp("voice", -60)
    stage.turn_preamp(change)
    before = left(stage)

    stage.done(stage.compensating(change)["front"])

    assert before == pytest.approx(9.0)
    assert left(stage) == pytest.approx(9.0)


def test_what_is_not_compensated_after_all_counts(stage: Stage) -> None:
    change = stage.plan_preamp("voice", -60)
    stage.turn_preamp(change)

    stage.not_done(stage.compensating(change)["front"])

    assert left(stage) == pytest.approx(15.0)


def test_a_preamp_turned_before_the_reading_is_in_it() -> None:
    stage = small_stage()
    stage.turn_preamp(stage.plan_preamp("voice", 60), though_rows_wait=True)

    stage.read_margin("front", "voice", 40, open_mics=3)

    assert left(stage) == pytest.approx(4.0)


@pytest.mark.parametrize(
    ("margin", "told"),
    [(60, None), (59, MarginCaution.LOW), (31, MarginCaution.LOW), (30, MarginCaution.AT_RESERVE)],
)
def test_margin_is_told_low_and_at_the_reserve(stage: Stage, margin: int, told: MarginCaution | None) -> None:
    stage.read_margin("front", "voice", margin, open_mics=3)

    assert margin_of(stage.show, "front", "voice").caution is told


def test_reserve_is_the_shows_setting(stage: Stage) -> None:
    stage.do(c.ChangeSettings(Settings(reserve_tenths=90)))

    assert margin_of(stage.show, "front", "voice").caution is MarginCaution.AT_RESERVE


def test_a_stale_margin_keeps_its_figure_and_says_so(stage: Stage) -> None:
    stage.make_stale("front")

    assert margin_of(stage.show, "front", "voice") == Margin("voice", 9.0, MarginCaution.STALE)


def test_reading_again_makes_a_margin_hold_again(stage: Stage) -> None:
    stage.make_stale("front")

    stage.read_margin("front", "voice", 80, open_mics=3)

    assert margin_of(stage.show, "front", "voice") == Margin("voice", 8.0, None)


def test_margins_are_of_all_open_mics_that_are_on_in_the_order_of_the_input_list(stage: Stage) -> None:
    stage.source("reverb", kind=SourceKind.RETURN)
    stage.correct("front", "drums", is_on=False)

    assert [margin.source for margin in margins_in(stage.show, "front")] == ["voice", "talk", "reverb"]


def test_nothing_can_ring_in_an_in_ear_pair(stage: Stage) -> None:
    assert margins_in(stage.show, "ears") == ()
    assert least_margin_db(stage.show, "ears") is None


def test_least_margin_is_that_of_the_mic_that_rings_first(stage: Stage) -> None:
    before = least_margin_db(stage.show, "front")

    stage.read_margin("front", "drums", 50, open_mics=3)

    assert (before, least_margin_db(stage.show, "front")) == (9.0, 5.0)


def test_margin_of_what_is_not_there_is_refused(stage: Stage) -> None:
    with pytest.raises(UnknownMix):
        margins_in(stage.show, "nosuch")
    with pytest.raises(SourceNotInMix):
        margin_of(stage.show, "front", "click")


def test_moves_beyond_all_measure_are_still_reckoned(stage: Stage) -> None:
    stage.do(c.ChangeSettings(Settings(lowest_tenths=-1500, highest_tenths=300)))
    stage.put("front", "voice", -1500)
    stage.read_margin("front", "voice", 90, open_mics=3)
    stage.put("front", "voice", 300)

    (voice, *_) = margins_in(stage.show, "front")

    assert voice.left_db == pytest.approx(9 - 120)


def test_a_source_or_mix_that_comes_again_under_its_id_has_no_reading(stage: Stage) -> None:
    stage.do(c.RemoveSource("voice"))
    stage.source("voice")
    after_source = left(stage)
    stage.read_margin("front", "drums", 50)
    stage.do(c.RemoveMix("front"))
    stage.wedge("front", "singer")

    assert after_source is None
    assert least_margin_db(stage.show, "front") is None


@pytest.mark.parametrize(
    "elsewhere",
    [
        Mix("front", "Front wedge", Output.WEDGE, ("singer",), place="left"),
        Mix("front", "Front wedge", Output.WEDGE, ("singer",), auxes=(7,)),
    ],
)
def test_a_wedge_that_is_moved_or_fed_otherwise_makes_its_margins_stale(stage: Stage, elsewhere: Mix) -> None:
    stage.do(c.PutMix(elsewhere))

    assert margin_of(stage.show, "front", "voice").caution is MarginCaution.STALE


def test_a_mix_that_is_renamed_keeps_its_margins(stage: Stage) -> None:
    stage.do(c.PutMix(Mix("front", "Centre", Output.WEDGE, ("singer",))))

    assert margin_of(stage.show, "front", "voice").caution is None


RAISES = st.sampled_from(["send", "output", "preamp", "mics"])


@given(st.lists(st.tuples(RAISES, st.integers(1, 40)), max_size=12))
def test_no_raise_ever_gives_margin_back(raises: list[tuple[str, int]]) -> None:
    stage = small_stage()
    stage.read_margin("front", "voice", 90, open_mics=3)
    mics = 1

    for what, amount in raises:
        before = left(stage)
        mics = raise_by(stage, what, amount, mics)
        after = left(stage)
        assert before is not None
        assert after is not None
        assert after <= before


def raise_by(stage: Stage, what: str, amount: int, mics: int) -> int:
    """Raise something; returns how many mics are open then."""
    match what:
        case "send":
            stage.correct("front", "voice", level=min(100, stage.level("front", "voice") + amount))
        case "output":
            stage.correct("front", None, level=min(100, stage.level("front", None) + amount))
        case "preamp":
            stage.turn_preamp(stage.plan_preamp("voice", amount), though_rows_wait=True)
        case _:
            mics += amount
            stage.open_mics(mics)
    return mics
