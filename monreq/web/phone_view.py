"""What a phone shows of its mix: each source as a strip, with what waits and what the desk did."""

from collections.abc import Sequence
from dataclasses import dataclass

from monreq.domain.requests import Call, Decision, Kind, Outcome, Request, RowKey
from monreq.domain.setup import Output, Source, SourceUse
from monreq.domain.show import Position, Show
from monreq.domain.suggest import disagree, sums_by_musician, total
from monreq.web import wording
from monreq.web.places import Place, Places

_STRIP_KINDS = (Kind.LEVEL, Kind.PAN, Kind.IN_OUT, Kind.SOUND)

_WHILE_WAITING = {
    (Call.HURTS, Output.IN_EAR_PAIR): "Turn the pack down or take BOTH out.",
    (Call.HURTS, Output.WEDGE): "Step away from the wedge.",
    (Call.SQUEAL, Output.WEDGE): "Step back from the wedge; keep the mic off it.",
    (Call.NOTHING, Output.IN_EAR_PAIR): "Check the pack: on? battery? volume? plug?",
    (Call.NOTHING, Output.WEDGE): "Check the wedge: power? cable?",
}


@dataclass(frozen=True, slots=True)
class TakeBack:
    """A waiting request, with the button that withdraws it."""

    request: str
    text: str


@dataclass(frozen=True, slots=True)
class StripView:
    """One source of the mix, or the whole mix (source empty).

    Attributes:
        status: Sentences: what waits, what was done.
        take_back: The requests that can be withdrawn, the newest first.
    """

    source: str
    name: str
    is_on: bool
    can_pan: bool
    can_less: bool
    is_waiting: bool
    status: tuple[str, ...]
    take_back: tuple[TakeBack, ...]


@dataclass(frozen=True, slots=True)
class CallView:
    """What became of the urgent calls of this mix."""

    waiting: tuple[str, ...]
    advice: tuple[str, ...]
    status: tuple[str, ...]
    take_back: tuple[TakeBack, ...]


@dataclass(frozen=True, slots=True)
class HeadView:
    """Whose mix this is."""

    name: str
    kind: str
    is_open: bool
    is_demo: bool


def phone_places(show: Show, mix: str) -> Places:
    """Return the places of a mix's phone page."""
    facts = show.mix(mix)
    strips = {
        f"strip-{source.id}": Place("phone/_strip.html", _strip(show, mix, source, position))
        for source, position in show.sends_in_order(mix)
    }
    head = HeadView(facts.name, wording.mix_kind(facts), show.is_open, show.is_demo)
    return {
        "head": Place("phone/_head.html", head),
        "calls": Place("phone/_calls.html", _calls(show, mix)),
        "strips": Place("phone/_strips.html", None, tuple(strips)),
        **strips,
        "whole": Place("phone/_whole.html", _whole(show, mix)),
    }


def _strip(show: Show, mix: str, source: Source, position: Position) -> StripView:
    keys = [RowKey(mix, source.id, kind) for kind in _STRIP_KINDS]
    return StripView(
        source=source.id,
        name=source.name,
        is_on=position.setting.is_on,
        can_pan=show.mix(mix).is_stereo,
        can_less=source.use is not SourceUse.TALKBACK,
        is_waiting=any(show.requests_in(key) for key in keys),
        status=_status(show, keys),
        take_back=_take_back(show, keys),
    )


def _whole(show: Show, mix: str) -> StripView:
    keys = [RowKey(mix, None, kind) for kind in (Kind.LEVEL, Kind.SOUND)]
    return StripView(
        source="",
        name="Whole mix",
        is_on=True,
        can_pan=False,
        can_less=True,
        is_waiting=any(show.requests_in(key) for key in keys),
        status=_status(show, keys),
        take_back=_take_back(show, keys),
    )


def _calls(show: Show, mix: str) -> CallView:
    key = RowKey(mix, None, Kind.CALL)
    calls = list(dict.fromkeys(one.call for one in show.requests_in(key) if one.call))
    output = show.mix(mix).output
    advice = [_WHILE_WAITING[call, output] for call in calls if (call, output) in _WHILE_WAITING]
    return CallView(
        waiting=tuple(wording.CALLS[call].lower() for call in calls),
        advice=tuple(advice),
        status=() if calls else _answer_lines(show, key),
        take_back=_take_back(show, [key]),
    )


def _status(show: Show, keys: Sequence[RowKey]) -> tuple[str, ...]:
    lines: list[str] = []
    for key in keys:
        waiting = show.requests_in(key)
        lines += [_waiting_line(show, key, waiting)] if waiting else _answer_lines(show, key)
    return tuple(lines)


def _waiting_line(show: Show, key: RowKey, requests: Sequence[Request]) -> str:
    state = "set aside by the desk" if all(one.is_set_aside for one in requests) else "waiting"
    if key.kind is Kind.SOUND:
        return f"{requests[-1].words}: {state}"
    if disagree(requests):
        sums = sums_by_musician(requests).items()
        each = ", ".join(
            f"{show.musician_name(who)} {wording.change(key.kind, amount)}" for who, amount in sums
        )
        return f"you disagree: {each}; {state}"
    return f"asked {wording.change(key.kind, total(key.kind, requests))}, {state}"


def _answer_lines(show: Show, key: RowKey) -> tuple[str, ...]:
    decision = show.decisions.get(show.latest.get(key, ""))
    return () if decision is None else (_answer_line(key.kind, decision),)


def _answer_line(kind: Kind, decision: Decision) -> str:
    reason = wording.reason(decision.reason)
    if decision.outcome is Outcome.NOT_DONE:
        return f"not done: {reason}"
    because = f": {reason}" if reason else ""
    if kind in (Kind.SOUND, Kind.CALL) or decision.done is None:
        return f"done{because}"
    done = wording.change(kind, decision.done)
    if decision.done == decision.asked:
        return f"done {done}{because}"
    return f"asked {wording.change(kind, decision.asked)}, done {done}{because}"


def _take_back(show: Show, keys: Sequence[RowKey]) -> tuple[TakeBack, ...]:
    waiting = [request for key in keys for request in show.requests_in(key)]
    newest_first = sorted(waiting, key=lambda request: int(request.id[1:]), reverse=True)
    return tuple(TakeBack(one.id, _take_back_text(show, one)) for one in newest_first)


def _take_back_text(show: Show, request: Request) -> str:
    is_shared = len(show.mix(request.key.mix).musicians) > 1
    who = f"{show.musician_name(request.musician)} " if is_shared else ""
    if request.call is not None:
        return f"{who}{wording.CALLS[request.call].lower()}"
    what = request.words or wording.change(request.key.kind, request.amount)
    return f"{who}{what}"
