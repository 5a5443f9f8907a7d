"""Looking things up in a state."""

import pytest

from monreq.domain import commands as c
from monreq.domain.levels import Levels, Position
from monreq.domain.refusals import SourceNotInMix, UnknownMix
from monreq.domain.requests import Kind, RowKey
from monreq.domain.setup import Setting
from monreq.domain.show import without
from tests.support.stage import Stage


def test_mix_that_is_not_there_is_refused(stage: Stage) -> None:
    with pytest.raises(UnknownMix):
        stage.show.mix("nosuch")
    with pytest.raises(UnknownMix):
        stage.show.position("nosuch", None)


def test_position_is_a_sends_or_the_outputs(stage: Stage) -> None:
    assert stage.show.position("front", "voice").setting == Setting(-200)
    assert stage.show.position("front", None).setting == Setting(0)
    with pytest.raises(SourceNotInMix):
        stage.show.position("front", "click")


def test_sends_come_in_the_order_of_the_input_list(stage: Stage) -> None:
    stage.do(c.ReorderSources(("click", "guitar")))

    order = [source.id for source, _ in stage.show.sends_in_order("ears")]

    assert order == ["click", "guitar", "voice", "drums", "talk"]


def test_names_are_kept_for_those_who_left_as_their_ids(stage: Stage) -> None:
    stage.do(c.RemoveSource("voice"))
    stage.do(c.RemoveMusician("singer"))

    assert (stage.show.source_name("drums"), stage.show.source_name("voice")) == ("Drums", "voice")
    assert stage.show.source_name(None) is None
    assert (stage.show.musician_name("bass"), stage.show.musician_name("singer")) == ("Bass", "singer")


def test_requests_of_a_row_come_in_the_order_of_asking(stage: Stage) -> None:
    first = stage.ask("front", "voice", 10)
    stage.ask("front", "drums", 10)
    second = stage.ask("front", "voice", 20)

    requests = stage.show.requests_in(RowKey("front", "voice", Kind.LEVEL))

    assert [request.id for request in requests] == [first, second]


def test_levels_are_replaced_one_at_a_time() -> None:
    levels = Levels(Position(Setting(0)), {"voice": Position(Setting(-200))})

    louder = levels.with_position("voice", Position(Setting(-100)))
    lower = louder.with_position(None, Position(Setting(-60)))

    assert lower == Levels(Position(Setting(-60)), {"voice": Position(Setting(-100))})
    assert levels.sends["voice"].setting == Setting(-200)


def test_without_leaves_the_rest_in_order() -> None:
    assert list(without({"a": 1, "b": 2, "c": 3}, ["b", "nosuch"])) == ["a", "c"]
