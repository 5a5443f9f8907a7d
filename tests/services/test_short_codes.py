"""Short codes: what they are made of, what opens with them, and what does not any more."""

import pytest

from monreq.domain import commands as c
from monreq.services.short_codes import ALPHABET, LENGTH, find, meant, short_code
from tests.support.stage import small_stage

KEY = bytes(range(32))
pytestmark = pytest.mark.security


def test_a_code_is_of_forty_bits_that_are_not_mistaken_for_another() -> None:
    code = short_code(KEY, small_stage().show, "front").replace("-", "")

    assert len(code) == LENGTH
    assert set(code) <= set(ALPHABET)
    assert len(ALPHABET) ** LENGTH == 2**40
    assert not set("lo01") & set(ALPHABET)


def test_a_code_belongs_to_key_show_mix_and_generation() -> None:
    stage = small_stage()
    codes = [short_code(KEY, stage.show, "front"), short_code(KEY, stage.show, "ears")]
    codes.append(short_code(bytes(32), stage.show, "front"))
    stage.do(c.ReplaceCode("front"))
    codes.append(short_code(KEY, stage.show, "front"))

    assert len(set(codes)) == 4


@pytest.mark.parametrize(
    "as_typed", [str, str.upper, lambda code: code.replace("-", " "), lambda code: f" {code}\n"]
)
def test_a_code_opens_its_mix_however_it_is_typed(as_typed: object) -> None:
    show = small_stage().show
    typed = as_typed(short_code(KEY, show, "ears"))  # type: ignore[operator]

    assert find(KEY, [show], typed) == (show, "ears")


@pytest.mark.parametrize("typed", ["", "-", "aaaa-aaaa", "a" * 40, "\u00e9\u00e9\u00e9\u00e9", "desk"])
def test_anything_else_opens_nothing(typed: str) -> None:
    assert find(KEY, [small_stage().show], typed) is None


def test_a_replaced_code_opens_nothing() -> None:
    stage = small_stage()
    old = short_code(KEY, stage.show, "front")
    stage.do(c.ReplaceCode("front"))

    assert find(KEY, [stage.show], old) is None


def test_what_is_meant_is_written_as_on_the_card() -> None:
    assert meant("K7M2 x9qp") == "k7m2-x9qp"


def test_a_short_key_makes_no_code() -> None:
    with pytest.raises(ValueError, match="32 bytes"):
        short_code(b"short", small_stage().show, "front")
