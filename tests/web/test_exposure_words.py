"""Times, shares and levels in words."""

from itertools import combinations_with_replacement

import pytest

from monreq.domain.exposure import time_factor
from monreq.domain.exposure_uncertainty import Estimate
from monreq.web import languages
from monreq.web.exposure_words import (
    about_time,
    between_times,
    duration,
    part,
    percent,
    possessive,
    sound_level,
)
from monreq.web.speech import LANGUAGES, _
from tests.support.evening import Evening


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


MARKS = "\N{RIGHT-TO-LEFT MARK}\N{FIRST STRONG ISOLATE}"
TIMES_S, DAY_S = (0, 30, 60, 59 * 60, 3600, 8 * 3600), 24 * 3600


@pytest.mark.parametrize(
    ("about_s", "low_s", "high_s", "words"),
    [
        (0, 0, 0, "no time"),
        (30, 30, 30, "less than a minute"),
        (30, 5, 55, "less than a minute"),
        (60, 60, 60, "1 min"),
        (59 * 60, 59 * 60, 59 * 60, "59 min"),
        (3600, 3600, 3600, "1 h"),
        (8 * 3600, 8 * 3600, 8 * 3600, "8 h"),
        (0, 0, 30, "less than a minute"),
        (0, 0, 60, "less than a minute, at most 1 min"),
        (30, 0, 3600, "less than a minute, at most 1 h, perhaps none"),
        (30, 10, 3600, "less than a minute, at most 1 h"),
        (60, 30, 59 * 60, "about 1 min, at most 59 min, perhaps less than a minute"),
        (60, 0, 60, "about 1 min, perhaps none"),
        (3600, 59 * 60, 8 * 3600, "about 1 h, between 59 min and 8 h"),
        (8 * 3600, 3600, 24 * 3600, "about 8 h, perhaps only 1 h"),
        (24 * 3600, 8 * 3600, 60 * 3600, "a day or more, perhaps only 8 h"),
        (24 * 3600, 0, 60 * 3600, "a day or more, perhaps none"),
        (24 * 3600, 24 * 3600, 60 * 3600, "a day or more"),
    ],
)
def test_a_range_of_times_reads_as_people_say_it(
    about_s: float, low_s: float, high_s: float, words: str
) -> None:
    assert between_times(Estimate(about_s / 3600, low_s / 3600, high_s / 3600)) == words


@pytest.mark.parametrize("code", LANGUAGES)
def test_what_is_said_in_words_is_never_about_in_any_language(evening: Evening, code: str) -> None:
    """All lows and highs of the times that are easily said wrong, in every language."""
    ranges = list(combinations_with_replacement((*TIMES_S, DAY_S), 3))
    with languages.speaking(evening.monreq.flask, code):
        vague = [duration(0), duration(24)]
        wrong = [_("about %(time)s", time=one) for one in vague]
        alone = {low: between_times(Estimate(*[low / 3600] * 3)) for low in TIMES_S[1:]}
        durations = {low: duration(low / 3600) for low in TIMES_S[1:]}
        said = {
            (low, middle, high): between_times(Estimate(middle / 3600, low / 3600, high / 3600))
            for low, middle, high in ranges
        }

    assert alone == durations
    assert not [words for words in said.values() if any(one in words for one in wrong)]
    assert not [words for words in said.values() if vague[1] in words[len(vague[1]) + len(MARKS) :]]


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


def test_an_estimated_time_is_about() -> None:
    assert [about_time(hours) for hours in (0.01, 1.5, 30)] == [
        "less than a minute",
        "about 1 h 30 min",
        "a day or more",
    ]


def test_names_and_levels() -> None:
    assert (possessive("Guitar"), possessive("Drums")) == ("Guitar's", "Drums'")
    assert (sound_level(94.0), sound_level(94.46)) == ("94 dB(A)", "94.5 dB(A)")
