"""Aux outputs against the counts of the trade and against another library's matching."""

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from monreq.domain.aux_outputs import Desk, Links
from monreq.domain.aux_plan import auxes_needed, mixes_possible, plan
from monreq.domain.aux_sharing import Wanted
from monreq.domain.setup import Output
from tests.support.facts import Fact, every_item, facts

pytestmark = pytest.mark.external

TABLE = "11_aux_outputs"


@pytest.mark.parametrize("fact", facts(TABLE, "aux.outputs_needed"), ids=str)
def test_outputs_needed(fact: Fact) -> None:
    """Source: the definition in the table's row: a mono mix takes one output, a stereo mix two."""
    kinds = fact.inputs["mixes"]
    outputs = {"mono": Output.WEDGE, "stereo": Output.IN_EAR_PAIR}
    mixes = [Wanted(f"m{place}", outputs[kind]) for place, kind in enumerate(kinds)]

    planned = plan(Desk(mono=0, stereo=0), mixes)

    assert auxes_needed(kinds.count("mono"), kinds.count("stereo"), 0) == fact.expected
    assert planned.outputs_needed == planned.missing_outputs == fact.expected


def test_no_row_of_the_table_is_left_unread() -> None:
    """Source: the table itself."""
    assert every_item(TABLE) == {"aux.outputs_needed"}


def test_five_players_on_wedges_and_one_effect_need_six_auxes() -> None:
    """Source: common practice, no source."""
    assert auxes_needed(wedges=5, in_ear_pairs=0, effects=1) == 6


def test_eight_mono_and_six_stereo_auxes_carry_fourteen_mixes() -> None:
    """Source: common practice, no source."""
    assert mixes_possible(mono=8, stereo=6) == 14


@given(st.integers(0, 12), st.frozensets(st.integers(1, 12)), st.sampled_from(Links))
def test_as_many_auxes_are_linked_as_can_be(mono: int, taken: frozenset[int], links: Links) -> None:
    """Source: networkx, largest matching in the graph of the auxes that may be linked."""
    desk = Desk(mono, 0, links=links, taken=frozenset(aux for aux in taken if aux <= mono))
    graph: nx.Graph[int] = nx.Graph()
    first = {Links.NONE: (), Links.ODD_EVEN: range(1, mono, 2), Links.NEIGHBOURS: range(1, mono)}[links]
    graph.add_edges_from((aux, aux + 1) for aux in first if {aux, aux + 1} <= set(desk.free))

    matching = nx.max_weight_matching(graph, maxcardinality=True)

    assert len(desk.linkable) == len(matching)
    assert set(desk.linkable) <= {tuple(sorted(edge)) for edge in graph.edges}
