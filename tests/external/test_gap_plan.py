"""The gap plan against published and brute-forced orders; the sources stand in the table's rows."""

import csv
import json
import math
from typing import Any

import networkx as nx
import pytest
from hypothesis import given, settings

from monreq.domain.gap_plan import Plan, Row, plan
from monreq.domain.gap_plan_bound import least_cost
from monreq.domain.gap_problem import GapProblem
from tests.support.facts import FOLDER, Fact, every_item, facts
from tests.support.gap_plans import Evening, evenings

pytestmark = pytest.mark.external

TABLE = "12_scheduling"
READ: set[str] = set()


def read(*items: str) -> list[Fact]:
    READ.update(items)
    return facts(TABLE, *items)


def rows_of(inputs: dict[str, Any]) -> list[Row]:
    """Return the jobs of a fact, named by their place from 0."""
    jobs = inputs.get("jobs_mix_p_w") or [("any", *job) for job in zip(inputs["p"], inputs["w"], strict=True)]
    return [Row(str(place), *job) for place, job in enumerate(jobs)]


def planned(inputs: dict[str, Any]) -> Plan:
    return plan(
        rows_of(inputs),
        math.inf,
        setup_s=inputs.get("setup", 0),
        song_s=240,
        at_mix=inputs.get("start_mix"),
    )


def cost(inputs: dict[str, Any], order: list[int]) -> float:
    """Price an order as the gap plan does."""
    rows = rows_of(inputs)
    names = [row.mix for row in rows]
    problem = GapProblem(
        moves_s=[row.move_s for row in rows],
        weights=[row.weight for row in rows],
        mixes=[names.index(name) for name in names],
        gap_s=math.inf,
        setup_s=inputs.get("setup", 0),
        song_s=240,
        at_mix=names.index(inputs["start_mix"]) if inputs.get("start_mix") else None,
    )
    assert least_cost(problem) <= problem.cost(order)
    return problem.cost(order)


def in_ratio_order(inputs: dict[str, Any]) -> list[int]:
    rows = rows_of(inputs)
    return sorted(range(len(rows)), key=lambda place: rows[place].move_s / rows[place].weight)


@pytest.mark.parametrize("fact", read("wspt.sum_wC"), ids=str)
def test_cost_of_an_order(fact: Fact) -> None:
    """Source: Kleinberg and Tardos, Algorithm Design, chapter 4, exercise: 10*1 + 2*4 = 18, 10*4 + 2*3 = 46."""
    assert cost(fact.inputs, fact.inputs["order"]) == fact.expected


@pytest.mark.parametrize("fact", read("wspt.fifo", "setup.fifo_sum_wC"), ids=str)
def test_cost_of_the_order_of_asking(fact: Fact) -> None:
    """Source: the definition in the table's row: a set-up is paid on every change of mix."""
    in_turn = list(range(len(rows_of(fact.inputs))))

    assert cost(fact.inputs, in_turn) == fact.expected
    assert planned(fact.inputs).cost <= fact.expected


@pytest.mark.parametrize("fact", read("wspt.optimum", "setup.optimum_sum_wC"), ids=str)
def test_plan_costs_as_little_as_the_best_of_all_orders(fact: Fact) -> None:
    """Source: brute force over all orders, done when the table was made."""
    assert planned(fact.inputs).cost == fact.expected


@pytest.mark.parametrize("fact", read("setup.plain_wspt_sum_wC"), ids=str)
def test_order_of_ratios_is_not_enough_with_set_ups(fact: Fact) -> None:
    """Source: the order of weight per time of Smith 1956, priced with set-ups."""
    assert cost(fact.inputs, in_ratio_order(fact.inputs)) == fact.expected
    assert planned(fact.inputs).cost < fact.expected


@pytest.mark.parametrize("fact", read("setup.min_total_setup"), ids=str)
def test_plan_cannot_spend_less_on_set_ups_than_brute_force_found(fact: Fact) -> None:
    """Source: brute force over all orders, done when the table was made; the cheapest order may spend more."""
    moves_s = sum(row.move_s for row in rows_of(fact.inputs))

    assert planned(fact.inputs).ends_s[-1] - moves_s >= fact.expected


def orders(item: str) -> list[tuple[dict[str, Any], str]]:
    with (FOLDER / "12_orders.csv").open(encoding="utf-8", newline="") as lines:
        return [
            (json.loads(row["inputs"]), row["expected"])
            for row in csv.DictReader(lines)
            if row["item"] == item
        ]


@pytest.mark.parametrize(("inputs", "expected"), orders("wspt.order"))
def test_plan_follows_the_order_of_weight_per_time(inputs: dict[str, Any], expected: str) -> None:
    """Source: Smith, Naval Research Logistics Quarterly 3, 1956: the order of w/p is optimal for 1||sum w C."""
    assert [int(row) for row in planned(inputs).order] == json.loads(expected)


@pytest.mark.parametrize(("inputs", "expected"), orders("setup.optimal_orders"))
def test_plan_is_one_of_the_best_orders(inputs: dict[str, Any], expected: str) -> None:
    """Source: brute force over all orders, done when the table was made."""
    order = [int(row) for row in planned(inputs).order]

    assert [order] == [best for best in json.loads(expected) if best == order]


@pytest.mark.parametrize(("inputs", "expected"), orders("cmu.first_class"))
def test_plan_begins_with_the_class_of_the_largest_cost_rate(inputs: dict[str, Any], expected: str) -> None:
    """Source: the c-mu rule, Kakalik and Little, RAND 1971: serve the largest cost times rate of service first."""
    classes = zip("AB", inputs["mean_service"], inputs["cost"], strict=True)
    rows = [Row(name, name, move_s, weight) for name, move_s, weight in classes]

    assert plan(rows, math.inf, setup_s=0, song_s=240).order[0] == expected


def test_no_row_of_the_table_is_left_unread() -> None:
    """Source: the table itself."""
    assert every_item(TABLE) == READ


@settings(deadline=None, max_examples=40)
@given(evenings(6))
def test_plan_agrees_with_the_shortest_path_through_all_sets_of_rows(evening: Evening) -> None:
    """Source: networkx, Dijkstra's algorithm on the graph of (rows done, mix, time), built from the definition."""
    graph: nx.DiGraph[Any] = nx.DiGraph()
    ids = frozenset(row.id for row in evening.rows)
    states = [(frozenset[str](), evening.at_mix, 0.0)]
    for done, at, clock_s in states:
        for row in evening.rows:
            if row.id not in done:
                end_s = clock_s + row.move_s + (evening.setup_s if row.mix != at else 0)
                late_s = evening.song_s if end_s > evening.gap_s else 0
                after = (done | {row.id}, row.mix, end_s)
                if after not in graph:
                    states.append(after)
                graph.add_edge((done, at, clock_s), after, cost=row.weight * (end_s + late_s))
    graph.add_node(states[0])
    graph.add_edges_from([(state, "all done", {"cost": 0}) for state in states if state[0] == ids])

    shortest = nx.dijkstra_path_length(graph, states[0], "all done", weight="cost")

    assert evening.plan().cost == pytest.approx(shortest, rel=1e-9)
