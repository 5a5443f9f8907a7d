"""Figures as people type them, and as the pages write them."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.refusals import FinerThanTenths, NotLikeThis
from monreq.web import wording
from monreq.web.figures import (
    Figure,
    UnreadableFigure,
    UnreadableLevel,
    UnreadablePan,
    read_figure,
    read_level,
    read_pan,
)

TENTHS = st.integers(-9999, 9999)
PERCENT = st.integers(-100, 100)


@given(TENTHS)
def test_a_written_change_is_read_back(tenths: int) -> None:
    assert read_figure(wording.signed(tenths)) == Figure(tenths, is_level=False)


@given(TENTHS)
def test_a_written_level_is_read_back(tenths: int) -> None:
    written = wording.level(tenths)

    assert read_level(written) == tenths
    assert read_figure(f"@ {written}") == Figure(tenths, is_level=True)


@given(PERCENT)
def test_a_written_pan_is_read_back(percent: int) -> None:
    assert read_pan(wording.pan(percent)) == percent


@given(
    TENTHS,
    st.sampled_from(["-", "\N{MINUS SIGN}"]),
    st.sampled_from([".", ","]),
    st.sampled_from(["", " ", "\t"]),
)
def test_either_minus_either_mark_and_any_space_mean_the_same(
    tenths: int, minus: str, mark: str, space: str
) -> None:
    sign = minus if tenths < 0 else "+"
    text = f"{space}{sign}{space}{abs(tenths) // 10}{mark}{abs(tenths) % 10}{space}dB{space}"

    assert read_figure(text) == Figure(tenths, is_level=False)


@given(st.text(max_size=14))
def test_any_text_is_read_or_refused_and_breaks_nothing(text: str) -> None:
    for read in (read_figure, read_level, read_pan):
        with suppress(NotLikeThis):
            read(text)


@pytest.mark.parametrize(
    "text", ["4", "1.5", "", "+", "@", "++1", "+1.", "+.5", "1e2", "inf", "nan", "+1000", "+1 2x"]
)
def test_a_change_without_its_sign_or_sense_is_refused(text: str) -> None:
    with pytest.raises(UnreadableFigure):
        read_figure(text)


def test_nothing_needs_no_sign() -> None:
    assert read_figure("0") == read_figure("+0") == read_figure("-0.0") == Figure(0, is_level=False)


@pytest.mark.parametrize("text", ["+0.25", "@ -1.05", "-0.01"])
def test_finer_than_tenths_is_refused_not_rounded(text: str) -> None:
    with pytest.raises(FinerThanTenths):
        read_figure(text)


@pytest.mark.parametrize(
    ("text", "tenths"), [("12", 120), ("-12", -120), ("@-12", -120), ("+3,5 dB", 35), ("@ 0", 0)]
)
def test_a_level_needs_no_sign(text: str, tenths: int) -> None:
    assert read_level(text) == tenths


@pytest.mark.parametrize("text", ["", "off", "@", "@@1", "--1"])
def test_what_is_no_level_is_refused(text: str) -> None:
    with pytest.raises(UnreadableLevel):
        read_level(text)


@pytest.mark.parametrize(
    ("text", "percent"),
    [
        ("middle", 0),
        ("left 20", -20),
        ("Right 100", 100),
        ("+20", 20),
        ("-20", -20),
        ("L", None),
        ("left", None),
    ],
)
def test_pan_is_read_as_people_say_it(text: str, percent: int | None) -> None:
    if percent is None:
        with pytest.raises(UnreadablePan):
            read_pan(text)
    else:
        assert read_pan(text) == percent


@pytest.mark.parametrize(
    "text", ["left 20 right", "20 left", "left -20", "2_0", "left20.5", "middle 5", "right right 5", ""]
)
def test_what_is_no_pan_is_refused(text: str) -> None:
    with pytest.raises(UnreadablePan):
        read_pan(text)
