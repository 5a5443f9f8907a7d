"""Times, shares and levels in words."""

import pytest

from monreq.domain.exposure import time_factor
from monreq.web.exposure_words import duration, part, percent, possessive, sound_level


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (0, "less than a minute"),
        (0.0166, "less than a minute"),
        (1 / 60, "1 min"),
        (0.999, "59 min"),
        (1, "1 h"),
        (1.34, "1 h 20 min"),
        (23.999, "23 h 59 min"),
        (24, "a day or more"),
        (float("inf"), "a day or more"),
    ],
)
def test_times_are_rounded_down(hours: float, words: str) -> None:
    assert duration(hours) == words


@pytest.mark.parametrize(
    ("value", "words"), [(0, "0 %"), (0.01, "1 %"), (61.2, "62 %"), (100, "100 %"), (100.0000001, "100 %")]
)
def test_doses_are_rounded_up(value: float, words: str) -> None:
    assert percent(value) == words


@pytest.mark.parametrize(
    ("change_db", "words"),
    [(1, "four fifths"), (2.2, "three fifths"), (3, "a half"), (6, "a quarter"), (9, "an eighth")],
)
def test_shares_of_the_time_as_people_say_them(change_db: float, words: str) -> None:
    assert part(time_factor(change_db, "niosh")) == words


@pytest.mark.parametrize("factor", [0.0949, 0.01, 0.0])
def test_what_is_left_of_a_big_raise_is_less_than_a_tenth(factor: float) -> None:
    assert part(factor) == "less than a tenth"


def test_names_and_levels() -> None:
    assert (possessive("Guitar"), possessive("Drums")) == ("Guitar's", "Drums'")
    assert (sound_level(94.0), sound_level(94.46)) == ("94 dB(A)", "94.5 dB(A)")
