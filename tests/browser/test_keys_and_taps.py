"""The counted table of keys and taps is what the actions take."""

import pytest

from tests.browser.conftest import OpenDesk, OpenPhone
from tests.support.demo import Demo
from tests.support.keys_and_taps import ACTIONS, TABLE, Evening, count, evening_of, page_of


@pytest.fixture
def it(demo: Demo, open_desk: OpenDesk, open_phone: OpenPhone) -> Evening:
    return evening_of(demo, open_desk(), open_phone("Bass"))


def test_commonest_actions_take_what_the_table_says_and_two_keys_and_a_figure_at_most(it: Evening) -> None:
    took = count(it)

    assert len(ACTIONS) == 12
    assert page_of(took) == TABLE.read_text(encoding="utf-8")
    without_figures = {
        name: [key for key in pressed if not key.isdigit() and key not in ("+", "-", "@", "enter")]
        for name, pressed in took.items()
    }
    assert max(map(len, without_figures.values())) <= 2
