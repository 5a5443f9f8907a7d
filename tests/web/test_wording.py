"""Figures and codes put into words."""

import pytest

from monreq.domain import suggest
from monreq.domain.cautions import CautionCode
from monreq.domain.put_back import SET_SINCE
from monreq.domain.removals import REMOVED
from monreq.domain.requests import Call, Kind
from monreq.domain.setup import Mix, Output, Setting, SourceKind, SourceUse
from monreq.web import caution_words, wording
from tests.support.stage import small_stage

MINUS = "\N{MINUS SIGN}"


@pytest.mark.parametrize(
    ("tenths", "words"),
    [(0, "0"), (30, "+3"), (-15, f"{MINUS}1.5"), (1, "+0.1"), (-900, f"{MINUS}90"), (105, "+10.5")],
)
def test_changes_carry_their_sign_and_no_useless_zero(tenths: int, words: str) -> None:
    assert wording.signed(tenths) == words


@pytest.mark.parametrize(
    ("kind", "amount", "words"),
    [
        (Kind.LEVEL, 30, "+3"),
        (Kind.CALL, -60, f"{MINUS}6"),
        (Kind.PAN, -20, "20 to the left"),
        (Kind.PAN, 40, "40 to the right"),
        (Kind.PAN, 0, "no change"),
        (Kind.IN_OUT, 1, "in"),
        (Kind.IN_OUT, -1, "out"),
        (Kind.IN_OUT, 0, "as it is"),
    ],
)
def test_change_is_said_in_the_unit_of_its_kind(kind: Kind, amount: int, words: str) -> None:
    assert wording.change(kind, amount) == words


@pytest.mark.parametrize(
    ("kind", "setting", "words"),
    [
        (Kind.LEVEL, Setting(-110), f"{MINUS}11"),
        (Kind.PAN, Setting(-110, -100), "left 100"),
        (Kind.PAN, Setting(-110), "middle"),
        (Kind.IN_OUT, Setting(-110, is_on=False), "off"),
        (Kind.IN_OUT, Setting(-110), f"{MINUS}11"),
    ],
)
def test_standing_is_said_in_the_unit_of_its_kind(kind: Kind, setting: Setting, words: str) -> None:
    assert wording.standing(kind, setting) == words


def test_a_reason_is_a_code_in_words_or_what_was_typed() -> None:
    assert wording.reason("near_feedback") == "near feedback"
    assert wording.reason("because") == "because"
    assert wording.reason("") == ""


def test_what_the_program_says_by_itself_has_words_and_only_what_a_person_hears_too_can_be_chosen() -> None:
    said = {*suggest.REASONS, REMOVED, SET_SINCE}

    assert said <= set(wording.REASONS)
    assert said & set(wording.CHOOSABLE_REASONS) == {"near_feedback"}


@pytest.mark.parametrize(
    ("mix", "kind", "auxes"),
    [
        (Mix("a", "A", Output.WEDGE, ("x",), auxes=(3,)), "wedge", "aux 3"),
        (Mix("a", "A", Output.WEDGE, ("x", "y")), "shared wedge", ""),
        (Mix("a", "A", Output.IN_EAR_PAIR, ("x",), auxes=(9, 10)), "in-ear pair", "aux 9 and 10"),
        (Mix("a", "A", Output.IN_EAR_PAIR, (), is_fed_mono=True), "in-ear pair, fed mono", ""),
    ],
)
def test_a_mix_is_named_by_how_it_is_heard(mix: Mix, kind: str, auxes: str) -> None:
    assert (wording.mix_kind(mix), wording.auxes(mix)) == (kind, auxes)


def test_every_choice_has_its_word() -> None:
    assert set(wording.CALLS) == set(Call)
    assert set(wording.OUTPUTS) == set(Output)
    assert set(wording.SOURCE_KINDS) == {*SourceKind, wording.ACOUSTIC_PICKUP}
    assert set(wording.SOURCE_USES) == set(SourceUse)


@pytest.mark.parametrize("code", CautionCode)
def test_every_caution_has_a_sentence_without_a_full_stop(code: CautionCode) -> None:
    stage = small_stage()
    stage.ask("ears", "drums", 30, "bass")
    stage.ask("ears", "drums", -20, "drummer")
    (row,) = stage.rows
    caution = type(row.suggestion.cautions[0])(code, 30)

    sentence = caution_words.caution(stage.show, row, caution)

    assert sentence
    assert not sentence.endswith(".")
    assert "None" not in sentence
