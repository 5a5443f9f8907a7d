"""Whatever is sent, a show refuses it or records it, and stays a show."""

import dataclasses
import types
import typing
from enum import Enum

from hypothesis import given, settings
from hypothesis import strategies as st

from monreq.domain import commands as c
from monreq.domain import measuring_commands as m
from monreq.domain.carry_commands import DoTogether
from monreq.domain.decide import decide
from monreq.domain.drifts import drift_db
from monreq.domain.events import Event
from monreq.domain.refusals import Refusal
from monreq.domain.show import Show
from monreq.domain.typed_commands import EnterTyped
from monreq.domain.ways import ways_for
from tests.support.invariants import check
from tests.support.stage import START_MS, small_stage

HOSTILE = ("", "desk", "mix:*", "r1", "r-1", "d1", "../x", "<b>", "\x00", "\ud800", "\u202e", "x" * 5000)
NUMBERS = st.one_of(st.sampled_from([30, -30, 10, -10, -60, 60]), st.integers(-120, 120), st.integers())
SIMPLE: dict[typing.Any, st.SearchStrategy[typing.Any]] = {
    int: NUMBERS,
    bool: st.booleans(),
    types.NoneType: st.none(),
}


def texts(name: str, show: Show) -> st.SearchStrategy[str]:
    """Return texts for a field: mostly what the show has under this name, sometimes what nobody should send."""
    there = {
        "mix": show.mixes,
        "source": show.sources,
        "sources": show.sources,
        "settings": show.sources,
        "musician": show.musicians,
        "musicians": show.musicians,
        "request": show.open_requests,
        "requests": show.open_requests,
        "decision": show.decisions,
        "change": show.preamp_changes,
        "auxes": show.mixes,
        "beside": show.musicians,
        "song": show.songs,
        "plan": [show.waiting_song_plan or "s1"],
    }
    likely = st.sampled_from([*there.get(name, ())] or ["horn"])
    rare = st.one_of(st.just("horn"), st.sampled_from(HOSTILE), st.text())
    return st.sampled_from([likely] * 19 + [rare]).flatmap(lambda chosen: chosen)


def whole_rows(show: Show) -> st.SearchStrategy[tuple[str, ...]]:
    """Return the requests of one row of the queue, as a desk names them."""
    rows = [tuple(one.id for one in requests) for requests in show.open_rows().values()]
    return st.sampled_from(rows or [()])


def anything_of(hint: typing.Any, name: str, show: Show) -> st.SearchStrategy[typing.Any]:
    """Return a strategy for a type as the commands use them."""
    parts = typing.get_args(hint)
    if isinstance(hint, types.UnionType):
        return st.one_of(*(anything_of(part, name, show) for part in parts))
    if typing.get_origin(hint) is tuple and Ellipsis not in parts:
        return st.tuples(*(anything_of(part, name, show) for part in parts))
    if typing.get_origin(hint) is tuple:
        some = st.lists(anything_of(parts[0], name, show), max_size=3).map(tuple)
        return st.one_of(whole_rows(show), some) if name == "requests" else some
    if isinstance(hint, type) and dataclasses.is_dataclass(hint):
        hints = typing.get_type_hints(hint).items()
        return st.builds(hint, **{field: anything_in(one, field, show) for field, one in hints})
    if hint is str:
        return texts(name, show)
    return SIMPLE[hint] if hint in SIMPLE else st.sampled_from(list(typing.cast("type[Enum]", hint)))


def anything_in(hint: typing.Any, name: str, show: Show) -> st.SearchStrategy[typing.Any]:
    """Return a strategy for a field of a command; any other command where it takes one, or a few."""
    if name not in ("command", "commands"):
        return anything_of(hint, name, show)
    kinds = st.sampled_from([kind for kind in KINDS if kind not in (DoTogether, EnterTyped)])
    some = kinds.flatmap(lambda kind: anything_of(kind, "", show))
    return some if name == "command" else st.lists(some, max_size=3)


KINDS = typing.get_args(c.Command)
MEASURING = [m.PlanPreampChange, m.ConfirmPreamp, m.ReadMargin]
WORK = [*typing.get_args(c.Ask), c.Withdraw, c.Answer, c.Undo, c.CorrectLevel, *MEASURING]
OFTEN = [kind for kind in KINDS if kind not in (c.OpenShow, c.CloseShow)] + WORK * 5


@given(st.data())
@settings(max_examples=300, deadline=None)
def test_any_command_is_decided_or_refused(data: st.DataObject) -> None:
    show = data.draw(st.sampled_from([Show("new"), small_stage().show]))
    kind = data.draw(st.sampled_from(KINDS))
    command = data.draw(anything_of(kind, "", show))

    try:
        events = decide(show, command, START_MS)
    except Refusal:
        return

    assert all(isinstance(event, typing.get_args(Event)) for event in events)


@given(st.data())
@settings(max_examples=100, deadline=None)
def test_any_commands_one_after_another_leave_a_show_in_order(data: st.DataObject) -> None:
    stage = small_stage()

    for kind in data.draw(st.lists(st.sampled_from(OFTEN), min_size=10, max_size=40)):
        before = stage.show
        try:
            events = stage.do(data.draw(anything_of(kind, "", before)))
        except Refusal:
            assert stage.show is before
        else:
            assert stage.show.revision == before.revision + len(events)
        check(stage.show, stage.log)
        for mix in stage.show.mixes:
            drift_db(stage.show, mix)
        for row in stage.rows:
            ways_for(stage.show, row)

    assert stage.at(stage.show.revision) == stage.show
