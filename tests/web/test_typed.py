"""Amounts and times as people type them in Prepare."""

import pytest

from monreq.domain.refusals import FinerThanTenths
from monreq.web.typed import UnreadableAmount, UnreadableTime, amount, read_amount, read_time_s, time


@pytest.mark.parametrize(
    ("text", "tenths"),
    [("3", 30), ("+3", 30), ("1,5 dB", 15), (" -4.5 ", -45), ("\N{MINUS SIGN}2", -20), ("", 0), (" ", 0)],
)
def test_amounts_are_read_as_people_type_them(text: str, tenths: int) -> None:
    assert read_amount(text) == tenths


@pytest.mark.parametrize("text", ["three", "3 m", "--3", "1000", "nan", "3\x00"])
def test_an_unreadable_amount_is_refused(text: str) -> None:
    with pytest.raises(UnreadableAmount):
        read_amount(text)


def test_an_amount_finer_than_tenths_is_refused() -> None:
    with pytest.raises(FinerThanTenths):
        read_amount("1.55")


@pytest.mark.parametrize(
    ("text", "seconds"),
    [("4:00", 240), ("0:30", 30), ("30", 30), ("30 s", 30), ("240", 240), (" 12:05 ", 725)],
)
def test_times_are_read_as_people_type_them(text: str, seconds: int) -> None:
    assert read_time_s(text) == seconds


@pytest.mark.parametrize("text", ["", "4:60", "4:0", ":30", "4:00:00", "-30", "4.5", "four", "99999"])
def test_an_unreadable_time_is_refused(text: str) -> None:
    with pytest.raises(UnreadableTime):
        read_time_s(text)


@pytest.mark.parametrize("seconds", [1, 30, 60, 240, 3600])
def test_a_time_is_read_back_as_it_is_shown(seconds: int) -> None:
    assert read_time_s(time(seconds)) == seconds


@pytest.mark.parametrize("tenths", [0, 15, 120, -45])
def test_an_amount_is_read_back_as_it_is_shown(tenths: int) -> None:
    assert read_amount(amount(tenths)) == tenths
