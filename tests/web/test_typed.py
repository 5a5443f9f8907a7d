"""Amounts, times, counts and places as people type them in Prepare."""

import pytest

from monreq.domain.refusals import FinerThanTenths
from monreq.web.typed import (
    UnreadableAmount,
    UnreadableCount,
    UnreadableNumbers,
    UnreadablePlace,
    UnreadableTime,
    amount,
    metres,
    read_amount,
    read_count,
    read_degrees,
    read_metres,
    read_numbers,
    read_time_s,
    time,
)


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


@pytest.mark.parametrize(("text", "count"), [("8", 8), (" 12 ", 12), ("", 0), ("000", 0)])
def test_counts_are_read(text: str, count: int) -> None:
    assert read_count(text) == count


@pytest.mark.parametrize("text", ["-1", "1.5", "1000", "eight", "\N{ARABIC-INDIC DIGIT THREE}"])
def test_an_unreadable_count_is_refused(text: str) -> None:
    with pytest.raises(UnreadableCount):
        read_count(text)


@pytest.mark.parametrize(
    ("text", "numbers"), [("7 8", (7, 8)), ("7,8", (7, 8)), (" 7 ,  8 ", (7, 8)), ("", ()), (" ", ())]
)
def test_numbers_are_read(text: str, numbers: tuple[int, ...]) -> None:
    assert read_numbers(text) == numbers


@pytest.mark.parametrize("text", ["7;8", "7-8", "aux 7", "1234x"])
def test_unreadable_numbers_are_refused(text: str) -> None:
    with pytest.raises(UnreadableNumbers):
        read_numbers(text)


@pytest.mark.parametrize(
    ("text", "centimetres"),
    [
        ("1.5", 150),
        ("1,25 m", 125),
        ("\N{MINUS SIGN}2", -200),
        ("+0.1", 10),
        (".5", 50),
        ("2.", 200),
        ("0", 0),
        ("", None),
    ],
)
def test_metres_are_read_as_people_type_them(text: str, centimetres: int | None) -> None:
    assert read_metres(text) == centimetres


@pytest.mark.parametrize("text", ["left", "1.234", "--1", "12345", ".", "1e3", "nan", "3 ft"])
def test_unreadable_metres_are_refused(text: str) -> None:
    with pytest.raises(UnreadablePlace):
        read_metres(text)


@pytest.mark.parametrize(
    ("text", "degrees"), [("90", 90), ("-45", -45), ("270\N{DEGREE SIGN}", 270), ("", 0)]
)
def test_degrees_are_read_as_people_type_them(text: str, degrees: int) -> None:
    assert read_degrees(text) == degrees


@pytest.mark.parametrize("text", ["north", "1.5", "1000"])
def test_unreadable_degrees_are_refused(text: str) -> None:
    with pytest.raises(UnreadablePlace):
        read_degrees(text)


@pytest.mark.parametrize("centimetres", [0, 5, 50, 125, -200, 1000, 100_000])
def test_metres_are_read_back_as_they_are_shown(centimetres: int) -> None:
    assert read_metres(metres(centimetres)) == centimetres
