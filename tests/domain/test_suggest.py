"""The suggested move: bounded by one trip, by the range, by disagreement; what was cut is said."""

import pytest

from monreq.domain import commands as c
from monreq.domain.cautions import Caution, CautionCode
from monreq.domain.requests import Call, Kind
from monreq.domain.setup import Settings, SourceKind, SourceUse
from monreq.domain.suggest import Suggestion
from tests.support.stage import Stage

NOT_MEASURED = Caution(CautionCode.MARGIN_NOT_MEASURED, 30)


def suggestion(stage: Stage, mix: str, source: str | None, kind: Kind = Kind.LEVEL) -> Suggestion:
    row = stage.row(mix, source, kind)
    assert row is not None
    return row.suggestion


def test_raise_of_a_direct_source_in_a_wedge_is_bounded_by_six_db(stage: Stage) -> None:
    stage.ask("front", "guitar", 60)
    uncut = suggestion(stage, "front", "guitar")
    stage.ask("front", "guitar", 1)

    cut = suggestion(stage, "front", "guitar")

    assert uncut == Suggestion(60)
    assert cut == Suggestion(60, (Caution(CautionCode.RAISE_LIMITED, 60),))


def test_raise_in_an_in_ear_pair_is_bounded_by_three_db(stage: Stage) -> None:
    stage.ask("ears", "voice", 30, "bass")
    uncut = suggestion(stage, "ears", "voice")
    stage.ask("ears", "voice", 1, "bass")

    cut = suggestion(stage, "ears", "voice")

    assert uncut == Suggestion(30)
    assert cut == Suggestion(30, (Caution(CautionCode.RAISE_LIMITED, 30),))


@pytest.mark.parametrize(("asked", "move"), [(10, 10), (30, 30), (31, 30), (120, 30)])
def test_raise_of_an_open_mic_in_a_wedge_is_bounded_by_three_db_and_says_so(
    stage: Stage, asked: int, move: int
) -> None:
    stage.ask("front", "voice", asked)

    assert suggestion(stage, "front", "voice") == Suggestion(move, (NOT_MEASURED,))


def test_raise_of_a_return_in_a_wedge_counts_as_an_open_mic(stage: Stage) -> None:
    stage.source("reverb", kind=SourceKind.RETURN)

    stage.ask("front", "reverb", 60)

    assert suggestion(stage, "front", "reverb") == Suggestion(30, (NOT_MEASURED,))


def test_tighter_of_two_bounds_holds_and_is_the_one_that_is_said(stage: Stage) -> None:
    stage.do(c.ChangeSettings(Settings(wedge_raise_tenths=20, unmeasured_raise_tenths=30)))

    stage.ask("front", "voice", 60)

    cautions = (Caution(CautionCode.RAISE_LIMITED, 20), NOT_MEASURED)
    assert suggestion(stage, "front", "voice") == Suggestion(20, cautions)


def test_bounds_are_the_shows_settings(stage: Stage) -> None:
    stage.do(c.ChangeSettings(Settings(in_ear_raise_tenths=15)))

    stage.ask("ears", "voice", 60, "bass")

    assert suggestion(stage, "ears", "voice").move == 15


def test_raise_of_a_whole_wedge_is_unmeasured_while_an_open_mic_is_on(stage: Stage) -> None:
    stage.ask("front", None, 60)
    with_mics = suggestion(stage, "front", None)
    for source in ("voice", "drums", "talk"):
        stage.correct("front", source, is_on=False)

    without_mics = suggestion(stage, "front", None)

    assert with_mics == Suggestion(30, (Caution(CautionCode.MARGIN_NOT_MEASURED, 30, source="voice"),))
    assert without_mics == Suggestion(60)


@pytest.mark.parametrize("asked", [-10, -120])
def test_lowering_is_not_bounded_by_a_trip(stage: Stage, asked: int) -> None:
    stage.ask("front", "voice", asked)
    stage.ask("ears", "voice", asked, "bass")

    assert suggestion(stage, "front", "voice") == Suggestion(asked)
    assert suggestion(stage, "ears", "voice") == Suggestion(asked)


def test_raise_ends_at_the_end_of_the_range(stage: Stage) -> None:
    stage.put("front", "guitar", 85)

    stage.ask("front", "guitar", 30)

    assert suggestion(stage, "front", "guitar") == Suggestion(15, (Caution(CautionCode.END_OF_RANGE, 15),))


def test_raise_at_the_end_of_the_range_is_nothing_and_never_down(stage: Stage) -> None:
    stage.put("front", "guitar", 100)

    stage.ask("front", "guitar", 30)

    assert suggestion(stage, "front", "guitar") == Suggestion(0, (Caution(CautionCode.END_OF_RANGE, 0),))


def test_raise_cut_twice_says_both(stage: Stage) -> None:
    stage.put("front", "voice", 90)

    stage.ask("front", "voice", 60)

    cautions = (Caution(CautionCode.END_OF_RANGE, 10), NOT_MEASURED)
    assert suggestion(stage, "front", "voice") == Suggestion(10, cautions)


def test_lowering_ends_at_the_end_of_the_range(stage: Stage) -> None:
    stage.put("front", "voice", -880)

    stage.ask("front", "voice", -60)

    assert suggestion(stage, "front", "voice") == Suggestion(-20, (Caution(CautionCode.END_OF_RANGE, -20),))


def test_source_that_was_turned_off_is_not_moved(stage: Stage) -> None:
    stage.ask("front", "voice", 60)
    stage.correct("front", "voice", is_on=False)

    assert suggestion(stage, "front", "voice") == Suggestion(0, (Caution(CautionCode.SOURCE_IS_OFF),))


@pytest.mark.parametrize(("bass", "drummer"), [(30, -30), (60, -10), (-1, 1)])
def test_disagreement_suggests_nothing(stage: Stage, bass: int, drummer: int) -> None:
    stage.ask("ears", "voice", bass, "bass")
    stage.ask("ears", "voice", drummer, "drummer")

    assert suggestion(stage, "ears", "voice") == Suggestion(0, (Caution(CautionCode.THEY_DISAGREE),))


def test_one_who_asks_back_and_forth_does_not_disagree(stage: Stage) -> None:
    stage.ask("ears", "voice", 30, "bass")
    stage.ask("ears", "voice", -10, "bass")
    stage.ask("ears", "voice", 10, "drummer")

    assert suggestion(stage, "ears", "voice") == Suggestion(30)


def test_disagreement_holds_for_pan_and_for_in_and_out(stage: Stage) -> None:
    stage.ask_pan("ears", "voice", 20, "bass")
    stage.ask_pan("ears", "voice", -40, "drummer")
    stage.ask_out("ears", "drums", "bass")
    stage.ask_in("ears", "drums", "drummer")

    disagreed = Suggestion(0, (Caution(CautionCode.THEY_DISAGREE),))
    assert suggestion(stage, "ears", "voice", Kind.PAN) == disagreed
    assert suggestion(stage, "ears", "drums", Kind.IN_OUT) == disagreed


def test_pan_ends_at_the_side(stage: Stage) -> None:
    stage.put("ears", "voice", -250, pan=90)

    stage.ask_pan("ears", "voice", 20, "bass")

    cut = Suggestion(10, (Caution(CautionCode.END_OF_RANGE, 10),))
    assert suggestion(stage, "ears", "voice", Kind.PAN) == cut


def test_out_asked_twice_is_out(stage: Stage) -> None:
    stage.ask_out("ears", "voice", "bass")
    stage.ask_out("ears", "voice", "drummer")

    assert suggestion(stage, "ears", "voice", Kind.IN_OUT) == Suggestion(-1)


def test_words_suggest_no_move(stage: Stage) -> None:
    stage.ask_sound("front", "voice", "muddy")

    assert suggestion(stage, "front", "voice", Kind.SOUND) == Suggestion(None)


@pytest.mark.parametrize(
    ("call", "move"), [(Call.HURTS, -60), (Call.SQUEAL, -30), (Call.NOTHING, None), (Call.TALK, None)]
)
def test_call_suggests_its_own_move_of_the_output(stage: Stage, call: Call, move: int | None) -> None:
    stage.call("front", call)

    assert suggestion(stage, "front", None, Kind.CALL) == Suggestion(move)


def test_calls_in_one_row_suggest_what_the_most_pressing_does(stage: Stage) -> None:
    stage.call("ears", Call.TALK, "bass")
    stage.call("ears", Call.SQUEAL, "drummer")
    stage.call("ears", Call.HURTS, "bass")

    assert suggestion(stage, "ears", None, Kind.CALL) == Suggestion(-60)


def test_call_near_the_bottom_ends_there(stage: Stage) -> None:
    stage.put("front", None, -870)

    stage.call("front", Call.HURTS)

    cut = Suggestion(-30, (Caution(CautionCode.END_OF_RANGE, -30),))
    assert suggestion(stage, "front", None, Kind.CALL) == cut


def test_click_in_a_wedge_is_direct_and_may_rise_by_six(stage: Stage) -> None:
    stage.source("cue", kind=SourceKind.DIRECT, use=SourceUse.CLICK)
    stage.put("front", "cue", -200)

    stage.ask("front", "cue", 70)

    assert suggestion(stage, "front", "cue").move == 60


def test_done_as_suggested_tells_why_it_was_less_than_asked(stage: Stage) -> None:
    unmeasured = stage.ask("front", "voice", 60)
    in_steps = stage.done(unmeasured)
    stage.read_margin("front", "voice", 40, 2)
    near = stage.done(stage.ask("front", "voice", 60))
    plain = stage.done(stage.ask("front", "voice", -10))

    reasons = [stage.show.decisions[one].reason for one in (in_steps, near, plain)]
    assert reasons == ["not_rung_out", "near_feedback", ""]


def test_a_figure_that_was_typed_is_given_no_reason(stage: Stage) -> None:
    decision = stage.done(stage.ask("front", "voice", 60), change=20)

    assert stage.show.decisions[decision].reason == ""
