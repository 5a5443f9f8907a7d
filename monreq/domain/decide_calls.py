"""Urgent calls: seen by a desk, and answered by a raise taken back."""

from dataclasses import replace

from monreq.domain import telling_commands as t
from monreq.domain.decide_answering import check_setting, named_requests
from monreq.domain.events import Event, RequestsAnswered
from monreq.domain.requests import Kind, Move, Outcome, Request, Way
from monreq.domain.setup import Setting
from monreq.domain.show import Show
from monreq.domain.telling_events import CallsSeen
from monreq.domain.telling_refusals import NotACall, NotLower
from monreq.domain.texts import NAME_LIMIT, clean


def say_calls_seen(show: Show, command: t.SayCallsSeen) -> tuple[Event, ...]:
    """Tell whoever called that somebody at a desk has seen it; once is enough."""
    calls = _named_calls(show, command.requests)
    fresh = tuple(call.id for call in calls if call.seen_at_ms is None)
    desk = clean(command.desk, NAME_LIMIT)
    return (CallsSeen(calls[0].key.mix, fresh, desk),) if fresh else ()


def take_back_raise(show: Show, command: t.TakeBackRaise) -> tuple[Event, ...]:
    """Record as the answer to calls what the hand put back down; lower than it stands, or out."""
    calls = _named_calls(show, command.requests)
    key = calls[0].key
    now = show.position(key.mix, command.source).setting
    after = _put_back(now, command.set_to_tenths)
    check_setting(after, show.settings)
    return (
        RequestsAnswered(
            decision=f"d{show.revision + 1}",
            mix=key.mix,
            source=key.source,
            kind=key.kind,
            requests=tuple(call.id for call in calls),
            outcome=Outcome.DONE,
            asked=0,
            move=None,
            way=Way.LAST_RAISE,
            also=(Move(key.mix, command.source, now, after),),
            desk=clean(command.desk, NAME_LIMIT),
        ),
    )


def _put_back(now: Setting, set_to_tenths: int | None) -> Setting:
    if not now.is_on:
        raise NotLower
    if set_to_tenths is None:
        return replace(now, is_on=False)
    if set_to_tenths >= now.level_tenths:
        raise NotLower
    return replace(now, level_tenths=set_to_tenths)


def _named_calls(show: Show, ids: tuple[str, ...]) -> list[Request]:
    calls = named_requests(show, ids)
    if calls[0].key.kind is not Kind.CALL:
        raise NotACall
    return calls
