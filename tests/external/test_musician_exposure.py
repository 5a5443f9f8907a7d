"""Exposure of musicians against published figures: on stage, at the limit, with one earpiece out."""

import pytest

from monreq.domain.decibels import net_change, power_sum
from monreq.domain.exposure import allowed_hours, time_factor
from tests.support.fact_table import FactTable, close
from tests.support.facts import Fact

pytestmark = pytest.mark.external
MUSICIANS = FactTable("08_musician_exposure")


@pytest.mark.parametrize("fact", MUSICIANS.read("musician.limit.niosh"), ids=str)
def test_allowed_time_as_musicians_are_told(fact: Fact) -> None:
    """Source: NIOSH for musicians, quoted at ehsworks1.blogspot.com/2015/06: 100 dB(A), just 15 minutes."""
    assert allowed_hours(fact.inputs["level_dba"], "niosh") == close(fact)


@pytest.mark.parametrize("fact", MUSICIANS.read("stage.band_estimate"), ids=str)
def test_level_of_a_band_on_stage(fact: Fact) -> None:
    """Source: prosoundweb.com, four sources of 90 dB(A), 6 more by reflections and 3 by monitors, each step rounded."""
    stage = fact.inputs

    of_band = power_sum([stage["drums_dba"]] * stage["n_sources"])

    assert net_change([of_band, stage["reflections_db"], stage["monitors_db"]]) == close(fact)


@pytest.mark.parametrize("fact", MUSICIANS.read("inear.one_ear_cost"), ids=str)
def test_cost_of_one_earpiece_made_up_for(fact: Fact) -> None:
    """Source: 2^(6/3); that one ear takes 6 dB more is from the Handbook for Sound Engineers, sect. 37.8.5."""
    assert 1 / time_factor(fact.inputs["db"], "niosh") == close(fact)


def test_no_row_of_the_table_is_left_unread() -> None:
    """Source: the table itself."""
    assert MUSICIANS.unread() == set()
