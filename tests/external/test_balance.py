"""New balances at the same loudness against the definition and other libraries; the sources stand in the tables' rows."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from monreq.domain.balance import drift, most_by_others_only, others_only, rest_down, same_loudness, share
from monreq.domain.decibels import power_ratio
from tests.support.fact_table import FactTable, close
from tests.support.facts import Fact, facts
from tests.support.toolbox import dbsub, dbsum

pytestmark = pytest.mark.external

DECIBELS = "01_db_arithmetic"
LIMITS = FactTable("01_rebalance")
PRACTICE = FactTable("11_stage_practice")
MIXES = st.dictionaries(st.sampled_from("abcdefgh"), st.floats(-60, 10), min_size=2)


def levels_of(fact: Fact) -> dict[str, float]:
    return {str(one): float(level) for one, level in enumerate(fact.inputs["levels_db"])}


@pytest.mark.parametrize("fact", facts(DECIBELS, "rebalance.overall_trim"), ids=str)
def test_same_loudness_trims_everything_alike(fact: Fact) -> None:
    """Source: the definition in the table's row: the sum of 10^(L/10) is kept."""
    levels, target = levels_of(fact), str(fact.inputs["target"])

    after = same_loudness(levels, {target: fact.inputs["relative_change_db"]})

    moved = {one: after[one] - levels[one] for one in levels}
    assert moved.pop(target) - fact.inputs["relative_change_db"] == close(fact)
    assert list(moved.values()) == [close(fact)] * len(moved)


@pytest.mark.parametrize("fact", facts(DECIBELS, "rebalance.others_only"), ids=str)
def test_others_only_lowers_all_others_alike(fact: Fact) -> None:
    """Source: the definition in the table's row: the sum of 10^(L/10) is kept."""
    levels, target = levels_of(fact), str(fact.inputs["target"])

    after = others_only(levels, target, fact.inputs["target_change_db"])

    moved = {one: after[one] - levels[one] for one in levels}
    assert moved.pop(target) == fact.inputs["target_change_db"]
    assert list(moved.values()) == [close(fact)] * len(moved)


@pytest.mark.parametrize("fact", LIMITS.read("rebalance.max_target_raise"), ids=str)
def test_most_that_one_source_can_rise_while_others_make_room(fact: Fact) -> None:
    """Source: the definition in the table's row: two equal sources, one of which may at most double."""
    assert most_by_others_only(levels_of(fact), str(fact.inputs["target"])) == close(fact)


@pytest.mark.parametrize("fact", facts(DECIBELS, "rebalance.turn_others_down_equivalence"), ids=str)
def test_rest_down_makes_the_mix_quieter(fact: Fact) -> None:
    """Source: the definition in the table's row: the others lowered instead of one raised."""
    levels = {str(one): 0.0 for one in range(fact.inputs["n_equal_sources"])}

    assert drift(levels, rest_down(levels, "0", fact.inputs["wanted_relative_db"])) == close(fact)


@pytest.mark.parametrize("fact", PRACTICE.read("practice.one_more_source"), ids=str)
def test_drift_by_one_more_equal_source(fact: Fact) -> None:
    """Source: 10 lg(5/4): a fifth source that equals four."""
    before = {str(one): -6.0 for one in range(fact.inputs["n_before"])}

    assert drift(before, {**before, "one more": -6.0}) == close(fact)


@pytest.mark.parametrize("fact", PRACTICE.read("practice.step.energy"), ids=str)
def test_energy_of_a_step(fact: Fact) -> None:
    """Source: 10^(3/10); HSE 'Sound advice', HSG260, para 1.19: 3 dB doubles the energy."""
    assert power_ratio(fact.inputs["db"]) == close(fact)


@given(MIXES)
def test_share_agrees_with_another_library(levels: dict[str, float]) -> None:
    """Source: acoustic-toolbox 0.2.2: dbsum of everything, less the source itself by dbsub."""
    source = min(levels, key=levels.__getitem__)
    total = dbsum(list(levels.values()))

    theirs = levels[source] - dbsub(total, levels[source])

    assert share(levels, source) == pytest.approx(theirs, abs=1e-6)


@given(MIXES, st.floats(-12, 12))
def test_same_loudness_is_kept_as_another_library_adds_up(levels: dict[str, float], change: float) -> None:
    """Source: acoustic-toolbox 0.2.2, dbsum before and after."""
    source = min(levels)

    after = same_loudness(levels, {source: change})

    assert dbsum(list(after.values())) == pytest.approx(dbsum(list(levels.values())), abs=1e-9)


@given(MIXES, st.floats(-12, 12))
def test_others_only_is_kept_as_another_library_adds_up(levels: dict[str, float], change: float) -> None:
    """Source: acoustic-toolbox 0.2.2, dbsum before and after."""
    source = min(levels)
    assume(change < most_by_others_only(levels, source))

    after = others_only(levels, source, change)

    assert dbsum(list(after.values())) == pytest.approx(dbsum(list(levels.values())), abs=1e-9)


def test_no_row_of_the_tables_is_left_unread() -> None:
    """Source: the tables themselves."""
    assert LIMITS.unread() == set()
    assert PRACTICE.unread() == set()
