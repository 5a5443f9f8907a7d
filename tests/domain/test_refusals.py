"""Every refusal has a code, a family and a sentence for a person."""

import pytest

from monreq.domain import preamp_refusals, refusals
from monreq.domain.preamp_refusals import PreampNotCompensated
from monreq.domain.refusals import AlreadyAnswered, Refusal

FAMILIES = (refusals.NotThere, refusals.NotLikeThis, refusals.NotNow, refusals.NoLonger, refusals.TooMuch)
ABOUT_ACCESS = (refusals.UnknownCode, refusals.NotYours)
KINDS = [
    kind
    for kind in (vars(refusals) | vars(preamp_refusals)).values()
    if isinstance(kind, type) and issubclass(kind, Refusal) and kind not in (Refusal, *FAMILIES)
]


def made(kind: type[Refusal]) -> Refusal:
    if kind is AlreadyAnswered:
        return AlreadyAnswered(("r7", "r9"))
    return PreampNotCompensated(mixes="Front wedge") if kind is PreampNotCompensated else kind()


@pytest.mark.parametrize("kind", KINDS)
def test_refusal_belongs_to_one_family_or_is_about_access(kind: type[Refusal]) -> None:
    families = (*FAMILIES, *ABOUT_ACCESS)

    assert sum(issubclass(kind, family) for family in families) == 1


@pytest.mark.parametrize("kind", KINDS)
def test_refusal_says_a_sentence(kind: type[Refusal]) -> None:
    sentence = made(kind).sentence

    assert sentence[0].isupper()
    assert sentence.endswith(".")
    assert "\n" not in sentence


def test_codes_are_snake_case_and_differ() -> None:
    codes = [made(kind).code for kind in KINDS]

    assert len(set(codes)) == len(codes)
    assert all(code.replace("_", "").isalpha() and code.islower() for code in codes)
    assert made(refusals.SourceOff).code == "source_off"


def test_refused_answer_names_the_requests() -> None:
    refusal = AlreadyAnswered(("r7", "r9"))

    assert refusal.sentence == "No longer waiting: r7, r9. Nothing was changed."
    assert refusal.code == "already_answered"


def test_refusal_can_say_something_of_its_own() -> None:
    assert Refusal("Not tonight.").sentence == "Not tonight."
