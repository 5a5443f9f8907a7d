"""Groups: how they are set up, and what becomes of them and of what waits for them when sources leave."""

from dataclasses import replace

import pytest

from monreq.domain import commands as c
from monreq.domain import group_commands as g
from monreq.domain.group_refusals import EmptyGroup, SubMixInGroup, UnknownGroup
from monreq.domain.group_sends import members_in
from monreq.domain.groups import Group
from monreq.domain.refusals import BadId, IdTaken, NameRequired, UnknownSource
from monreq.domain.requests import RequestState
from monreq.domain.setup import Source, SourceKind
from monreq.domain.trail import trail
from tests.support.group_stage import KIT, group_stage
from tests.support.queue_rows import about
from tests.support.stage import Stage


@pytest.fixture
def stage() -> Stage:
    return group_stage()


def test_group_is_put_with_its_name_cleaned_and_each_source_once(stage: Stage) -> None:
    stage.do(g.PutGroup(Group("rhythm", "  Rhythm ", ("guitar", "guitar", "drums"))))

    assert list(stage.show.groups) == ["kit", "rhythm"]
    assert stage.show.groups["rhythm"] == Group("rhythm", "Rhythm", ("guitar", "drums"))


def test_group_put_as_it_is_changes_nothing(stage: Stage) -> None:
    assert stage.do(g.PutGroup(KIT)) == ()


@pytest.mark.parametrize(
    ("group", "refusal"),
    [
        (Group("voice", "Voices", ("drums",)), IdTaken),
        (Group("all", "All", ()), EmptyGroup),
        (Group("all", "All", ("nosuch",)), UnknownSource),
        (Group("all", "All", ("drums",), "nosuch"), UnknownSource),
        (Group("all", "All", ("drums",), "drums"), SubMixInGroup),
        (Group("All!", "All", ("drums",)), BadId),
        (Group("all", " ", ("drums",)), NameRequired),
    ],
)
def test_group_that_makes_no_sense_is_refused(stage: Stage, group: Group, refusal: type) -> None:
    with pytest.raises(refusal):
        stage.do(g.PutGroup(group))


def test_source_cannot_take_the_id_of_a_group(stage: Stage) -> None:
    with pytest.raises(IdTaken):
        stage.do(c.PutSource(Source("kit", "Kit", SourceKind.DIRECT)))


def test_group_is_named_as_a_source_is(stage: Stage) -> None:
    assert stage.show.source_name("kit") == "Kit"


def test_talkback_is_never_set_with_a_group(stage: Stage) -> None:
    stage.do(g.PutGroup(replace(KIT, sources=(*KIT.sources, "talk"))))

    assert [source.id for source, _ in members_in(stage.show, "front", "kit")] == list(KIT.sources)


def test_group_that_is_not_there_cannot_be_removed(stage: Stage) -> None:
    with pytest.raises(UnknownGroup):
        stage.do(g.RemoveGroup("nosuch"))


def test_what_waits_for_a_group_is_answered_as_not_done_when_it_goes(stage: Stage) -> None:
    request = stage.ask("front", "kit", -30)

    stage.do(g.RemoveGroup("kit"))

    known = trail(stage.show, request, about(stage, request))
    assert known is not None
    assert (known.state, known.reason) == (RequestState.NOT_DONE, "removed")
    assert not stage.show.groups


def test_source_that_leaves_shrinks_its_group_and_what_waits_for_the_rest_stays(stage: Stage) -> None:
    request = stage.ask("front", "kit", -30)

    stage.do(c.RemoveSource("kick"))

    assert stage.show.groups["kit"].sources == ("snare", "overhead")
    assert list(stage.show.open_requests) == [request]


def test_group_goes_with_its_last_source(stage: Stage) -> None:
    request = stage.ask("front", "kit", -30)

    for source in KIT.sources:
        stage.do(c.RemoveSource(source))

    assert not stage.show.groups
    assert request in stage.show.closed


def test_sub_mix_that_leaves_is_no_sub_mix_any_more(stage: Stage) -> None:
    stage.do(g.PutGroup(replace(KIT, sub_mix="drums")))

    stage.do(c.RemoveSource("drums"))

    assert stage.show.groups["kit"] == KIT


def test_what_waits_where_the_last_of_a_group_leaves_the_mix_is_answered_as_not_done(stage: Stage) -> None:
    here, there = stage.ask("front", "kit", -30), stage.ask("ears", "kit", -30, "bass")

    for source in KIT.sources:
        stage.do(c.RemoveSend("front", source))

    assert here in stage.show.closed
    assert list(stage.show.open_requests) == [there]


def test_group_put_anew_without_what_a_mix_has_answers_what_waits_there(stage: Stage) -> None:
    request = stage.ask("front", "kit", -30)

    stage.do(g.PutGroup(replace(KIT, sources=("click",))))

    assert request in stage.show.closed
