"""Decibels against published values and against another library; the sources stand in the table's rows."""

import math
from collections.abc import Iterable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.balance import drift
from monreq.domain.decibels import amplitude_ratio, net_change, power_ratio, power_sum
from tests.support.facts import Fact, every_item, facts

pytestmark = pytest.mark.external

TABLE = "01_db_arithmetic"
LEVELS = st.lists(st.floats(-200, 200), min_size=1, max_size=40)
READ: set[str] = set()


def read(*items: str) -> list[Fact]:
    READ.update(items)
    return facts(TABLE, *items)


def close(fact: Fact) -> object:
    return pytest.approx(fact.expected, abs=fact.tolerance)


def floats(levels: Iterable[float | str]) -> list[float]:
    return [float(level) for level in levels]


@pytest.mark.parametrize("fact", read("db.to_amplitude_ratio"), ids=str)
def test_amplitude_ratio_of_a_level(fact: Fact) -> None:
    """Source: the definition L = 20 lg(ratio), ISO 80000-3:2006."""
    assert amplitude_ratio(fact.inputs["db"]) == close(fact)


@pytest.mark.parametrize("fact", read("db.from_amplitude_ratio"), ids=str)
def test_amplitude_ratio_leads_back_to_the_published_level(fact: Fact) -> None:
    """Source: the definition L = 20 lg(ratio), ISO 80000-3:2006."""
    assert amplitude_ratio(fact.expected) == pytest.approx(fact.inputs["ratio"], rel=1e-9)


@pytest.mark.parametrize("fact", read("db.to_power_ratio"), ids=str)
def test_power_ratio_of_a_level(fact: Fact) -> None:
    """Source: the definition L = 10 lg(ratio), ISO 80000-3:2006."""
    assert power_ratio(fact.inputs["db"]) == close(fact)


@pytest.mark.parametrize("fact", read("db.from_power_ratio"), ids=str)
def test_power_ratio_leads_back_to_the_published_level(fact: Fact) -> None:
    """Source: the definition L = 10 lg(ratio), ISO 80000-3:2006."""
    assert power_ratio(fact.expected) == pytest.approx(fact.inputs["ratio"], rel=1e-9)


@pytest.mark.parametrize("fact", read("db.change_series"), ids=str)
def test_changes_on_one_path_add(fact: Fact) -> None:
    """Source: the definition; gains in series multiply, so their levels add."""
    assert net_change(fact.inputs["changes_db"]) == close(fact)


@pytest.mark.parametrize(
    "fact", read("db.sum_equal_incoherent.gain", "db.sum_equal_incoherent.printed"), ids=str
)
def test_sum_of_equal_unrelated_sources(fact: Fact) -> None:
    """Sources: 10 lg(n); as printed, the table at engineersdaily.com/2011/02/adding-decibels.html."""
    assert power_sum([70.0] * fact.inputs["n"]) - 70.0 == close(fact)


@pytest.mark.parametrize("fact", read("db.sum_unequal.increment", "db.sum_unequal.increment_1dp"), ids=str)
def test_sum_of_two_unequal_sources(fact: Fact) -> None:
    """Source: 10 lg(1 + 10^(-d/10)), and the one-decimal handbook table computed from it."""
    assert power_sum([70.0, 70.0 - fact.inputs["difference_db"]]) - 70.0 == close(fact)


@pytest.mark.parametrize("fact", read("db.sum_unequal.increment_coarse_gov"), ids=str)
def test_sum_of_two_unequal_sources_as_a_coarse_public_table_has_it(fact: Fact) -> None:
    """Source: Hong Kong EPD, Technical Memorandum on places other than domestic premises, Table 4."""
    for difference in (fact.inputs["difference_from"], fact.inputs["difference_to"]):
        assert power_sum([70.0, 70.0 - difference]) - 70.0 == close(fact)


@pytest.mark.parametrize(
    "fact", read("db.power_sum.exact", "db.power_sum.printed", "db.silent_source"), ids=str
)
def test_sum_of_levels(fact: Fact) -> None:
    """Sources: the worked examples named in the table's rows, printed ones within their rounding."""
    assert power_sum(floats(fact.inputs["levels_db"])) == close(fact)


@pytest.mark.parametrize("fact", read("db.power_difference"), ids=str)
def test_what_is_left_of_a_sum_adds_up_to_it_again(fact: Fact) -> None:
    """Source: university slides 'Decibel values: sum and difference', example 3, as computed in the table's row."""
    again = power_sum([fact.expected, fact.inputs["minus_db"]])

    assert again == pytest.approx(fact.inputs["total_db"], abs=fact.tolerance)


@pytest.mark.parametrize("fact", read("rebalance.overall_trim"), ids=str)
def test_balance_that_keeps_the_same_power_has_no_drift(fact: Fact) -> None:
    """Source: the definition in the table's row: the sum of 10^(L/10) is kept."""
    before = dict(enumerate(floats(fact.inputs["levels_db"])))
    louder = {
        **before,
        fact.inputs["target"]: before[fact.inputs["target"]] + fact.inputs["relative_change_db"],
    }

    after = {source: level + fact.expected for source, level in louder.items()}

    assert named_drift(before, after) == pytest.approx(0.0, abs=fact.tolerance)


@pytest.mark.parametrize("fact", read("rebalance.others_only"), ids=str)
def test_balance_that_lowers_all_others_has_no_drift(fact: Fact) -> None:
    """Source: the definition in the table's row: the sum of 10^(L/10) is kept."""
    before = dict(enumerate(floats(fact.inputs["levels_db"])))
    target = fact.inputs["target"]

    after = {source: level + fact.expected for source, level in before.items()}
    after[target] = before[target] + fact.inputs["target_change_db"]

    assert named_drift(before, after) == pytest.approx(0.0, abs=fact.tolerance)


@pytest.mark.parametrize("fact", read("rebalance.turn_others_down_equivalence"), ids=str)
def test_drift_of_a_mix_whose_others_were_turned_down(fact: Fact) -> None:
    """Source: the definition in the table's row: the others lowered instead of one raised."""
    before = dict.fromkeys(range(fact.inputs["n_equal_sources"]), 0.0)

    after = {source: -float(fact.inputs["wanted_relative_db"]) for source in before} | {0: 0.0}

    assert named_drift(before, after) == close(fact)


def test_no_row_of_the_table_is_left_unread() -> None:
    """Source: the table itself."""
    assert every_item(TABLE) == READ


@given(LEVELS)
def test_power_sum_agrees_with_numpy(levels: list[float]) -> None:
    """Source: numpy.logaddexp, which adds exponentials without forming them."""
    per_db = math.log(10) / 10

    theirs = float(np.logaddexp.reduce(np.array(levels) * per_db)) / per_db

    assert power_sum(levels) == pytest.approx(theirs, abs=1e-9)


@given(LEVELS)
def test_net_change_agrees_with_numpy(changes: list[float]) -> None:
    """Source: numpy.sum."""
    assert net_change(changes) == pytest.approx(float(np.sum(changes)), abs=1e-9)


def named_drift(before: dict[int, float], after: dict[int, float]) -> float:
    return drift(
        {str(one): level for one, level in before.items()}, {str(one): level for one, level in after.items()}
    )
