"""Tokens: what opens a mix or the desk, and what only looks as if it did."""

import hashlib
import hmac
import string
from base64 import urlsafe_b64encode

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.services.tokens import DESK, TABLET, MalformedTokenError, Subject, Token, Verdict, make_token

pytestmark = pytest.mark.security

KEY = bytes(range(32))
OTHER_KEY = bytes(range(1, 33))
BASS = Subject("bass")
IDS = st.text(string.ascii_lowercase + string.digits, min_size=1, max_size=12)
SUBJECTS = st.builds(Subject, st.none() | IDS)


def verdict(token: str, generation: int = 0, key: bytes = KEY) -> Verdict:
    return Token.parse(token).verify(key, generation)


@pytest.mark.parametrize(
    ("subject", "covered", "begins"),
    [
        (BASS, b"show1|mix:bass|3", "show1-bass."),
        (DESK, b"show1|desk|3", "show1."),
        (TABLET, b"show1|tablet|3", "show1~."),
    ],
)
def test_make_token_is_the_first_half_of_an_hmac(subject: Subject, covered: bytes, begins: str) -> None:
    """So what was printed opens in later versions too."""
    digest = hmac.new(KEY, covered, hashlib.sha256).digest()

    token = make_token(KEY, "show1", subject, 3)

    assert token == begins + urlsafe_b64encode(digest[:16]).decode().rstrip("=")


def test_token_of_the_desk_carries_the_show_alone() -> None:
    parsed = Token.parse(make_token(KEY, "show1", DESK, 0))

    assert (parsed.show, parsed.subject, len(parsed.mac)) == ("show1", DESK, 22)


@given(IDS, SUBJECTS, st.integers(0, 20))
def test_token_opens_what_it_was_made_for(show: str, subject: Subject, generation: int) -> None:
    token = make_token(KEY, show, subject, generation)

    parsed = Token.parse(token)

    assert (parsed.show, parsed.subject) == (show, subject)
    assert parsed.verify(KEY, generation) is Verdict.VALID


@given(SUBJECTS, st.integers(0, 8), st.integers(1, 8))
def test_token_of_an_earlier_generation_is_replaced(subject: Subject, generation: int, later: int) -> None:
    token = make_token(KEY, "show1", subject, generation)

    assert verdict(token, generation + later) is Verdict.REPLACED


def test_token_of_a_later_generation_is_forged() -> None:
    assert verdict(make_token(KEY, "show1", BASS, 1), 0) is Verdict.FORGED


def test_token_of_another_key_is_forged() -> None:
    token = make_token(OTHER_KEY, "show1", BASS, 0)

    assert verdict(token, 3) is Verdict.FORGED


@given(IDS, SUBJECTS, IDS, SUBJECTS)
def test_token_with_its_subject_exchanged_is_forged(
    show: str, subject: Subject, other_show: str, other: Subject
) -> None:
    mac = make_token(KEY, show, subject, 0).partition(".")[2]
    head = make_token(KEY, other_show, other, 0).partition(".")[0]
    is_same = (show, subject) == (other_show, other)

    judged = verdict(f"{head}.{mac}", 2)

    assert judged is (Verdict.REPLACED if is_same else Verdict.FORGED)


def test_token_of_a_mix_called_desk_does_not_open_the_desk() -> None:
    mac = make_token(KEY, "show1", Subject("desk"), 0).partition(".")[2]

    assert verdict(f"show1.{mac}") is Verdict.FORGED


def test_token_has_one_spelling_only() -> None:
    token = make_token(KEY, "show1", BASS, 0)
    spellings = [token[:-1] + letter for letter in string.ascii_letters + string.digits + "-_"]

    accepted = [text for text in spellings if verdict(text) is Verdict.VALID]

    assert accepted == [token]


MAC = "A" * 22


@pytest.mark.parametrize(
    "text",
    [
        "",
        "show1",
        "show1.",
        f".{MAC}",
        f"show1.{MAC}A",
        f"show1.{MAC[1:]}",
        f"show1.{MAC}\n",
        f" show1.{MAC}",
        f"Show1.{MAC}",
        f"show1-.{MAC}",
        f"show1-bass-2.{MAC}",
        f"sh\u00f6w.{MAC}",
        f"show\u0661.{MAC}",
        f"abcdefghijklm.{MAC}",
        f"show1.{MAC[1:]}=",
        f"show1.{MAC[1:]}+",
        f"show1.{MAC[1:]}\u00e9",
    ],
)
def test_parse_refuses_what_is_no_token(text: str) -> None:
    with pytest.raises(MalformedTokenError, match=r"^This is not a token\.$"):
        Token.parse(text)


@given(st.text(max_size=60))
def test_parse_of_anything_gives_a_token_or_a_refusal(text: str) -> None:
    try:
        parsed = Token.parse(text)
    except MalformedTokenError:
        return

    assert parsed.verify(KEY, 1) is Verdict.FORGED


@pytest.mark.parametrize(
    ("key", "show", "subject", "generation"),
    [
        (KEY[1:], "show1", DESK, 0),
        (b"", "show1", DESK, 0),
        (KEY, "show1", DESK, -1),
        (KEY, "show-1", DESK, 0),
        (KEY, "", DESK, 0),
        (KEY, "show1", Subject(""), 0),
        (KEY, "show1", Subject("a|0"), 0),
    ],
)
def test_make_token_refuses_what_would_make_it_weak(
    key: bytes, show: str, subject: Subject, generation: int
) -> None:
    with pytest.raises(ValueError, match=r"^(not ids|a key of 32 bytes)"):
        make_token(key, show, subject, generation)


def test_tokens_of_a_thousand_mixes_differ() -> None:
    tokens = {make_token(KEY, "show1", Subject(f"m{n}"), g) for n in range(500) for g in (0, 1)}
    macs = {token.partition(".")[2] for token in tokens}

    assert len(macs) == 1000
