"""Passphrases: which are taken, what is kept, and what is right."""

import pytest

from monreq.domain.refusals import Refusal
from monreq.services.passphrases import is_right, keep

pytestmark = pytest.mark.security

GOOD = "violet kettle on the moon"


def test_what_is_kept_is_a_salted_argon2id_hash_and_not_the_words() -> None:
    one, other = keep(GOOD), keep(GOOD)

    assert one.startswith("$argon2id$v=19$m=19456,t=2,p=1$")
    assert one != other
    assert "violet" not in one


@pytest.mark.parametrize(
    "words", [GOOD, "na\u00efve r\u00eave", "12 34 56 7", " " * 7 + "x", "x" * 127 + "y"]
)
def test_the_right_words_are_right_and_others_are_not(words: str) -> None:
    kept = keep(words)

    assert is_right(kept, words)
    assert not is_right(kept, words + "x")
    assert not is_right(kept, words.swapcase() + " ")


def test_letters_that_look_the_same_are_the_same() -> None:
    assert is_right(keep("re\u0301sume\u0301 one"), "r\u00e9sum\u00e9 one")


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("", "passphrase_too_short"),
        ("seven77", "passphrase_too_short"),
        ("x" * 129, "passphrase_too_long"),
        ("password", "passphrase_too_common"),
        ("SoundCheck", "passphrase_too_common"),
        ("zzzzzzzzz", "passphrase_too_common"),
    ],
)
def test_what_anybody_would_try_is_not_taken(words: str, code: str) -> None:
    with pytest.raises(Refusal) as refusal:
        keep(words)

    assert refusal.value.code == code


@pytest.mark.parametrize("words", ["", GOOD, "x" * 1000])
def test_where_none_is_kept_nothing_is_right(words: str) -> None:
    assert not is_right(None, words)


def test_more_than_a_passphrase_may_have_is_not_right() -> None:
    assert not is_right(keep("x" * 127 + "y"), "x" * 127 + "yz")
