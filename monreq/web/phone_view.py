"""What a phone shows of its mix: each source as a strip, with what waits and what the desk did."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from monreq.domain.requests import Call, Decision, Kind, Outcome, Request, RowKey, Way
from monreq.domain.setup import Mix, Output, Source, SourceUse
from monreq.domain.show import Position, Show
from monreq.domain.suggest import disagree, sums_by_musician, total
from monreq.web import wording
from monreq.web.exposure_view import own_exposure_line
from monreq.web.keep_question_view import keep_question
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


@dataclass(frozen=True, slots=True)
class _Page:
    """One mix of a show, with its open requests by row."""

    show: Show
    mix: Mix
    rows: Mapping[RowKey, tuple[Request, ...]]

    def waiting(self, keys: Sequence[RowKey]) -> list[Request]:
        """Return the open requests of some rows."""
        return [request for key in keys for request in self.rows.get(key, ())]


def phone_places(show: Show, mix: str) -> Places:
    """Return the places of a mix's phone page."""
    page = _Page(show, show.mix(mix), show.open_rows())
    strips = {
        f"strip-{source.id}": Place("phone/_strip.html", _strip(page, source, position))
        for source, position in show.sends_in_order(mix)
    }
    head = HeadView(page.mix.name, wording.mix_kind(page.mix), show.is_open, show.is_demo)
    return {
        "head": Place("phone/_head.html", head),
        "keep": Place("phone/_keep.html", keep_question(show, mix)),
        "calls": Place("phone/_calls.html", _calls(page)),
        "strips": Place("phone/_strips.html", None, tuple(strips)),
        **strips,
        "whole": Place("phone/_whole.html", _whole(page)),
        "exposure": Place("phone/_exposure.html", own_exposure_line(show, mix)),
    }


def _strip(page: _Page, source: Source, position: Position) -> StripView:
    keys = [RowKey(page.mix.id, source.id, kind) for kind in _STRIP_KINDS]
    waiting = page.waiting(keys)
    return StripView(
        source=source.id,
        name=source.name,
        is_on=position.setting.is_on,
        can_pan=page.mix.is_stereo,
        can_less=source.use is not SourceUse.TALKBACK,
        is_waiting=bool(waiting),
        status=_status(page, keys),
        take_back=_take_back(page.show, waiting),
    )


def _whole(page: _Page) -> StripView:
    keys = [RowKey(page.mix.id, None, kind) for kind in (Kind.LEVEL, Kind.SOUND)]
    waiting = page.waiting(keys)
    return StripView(
        source="",
        name="Whole mix",
        is_on=True,
        can_pan=False,
        can_less=True,
        is_waiting=bool(waiting),
        status=_status(page, keys),
        take_back=_take_back(page.show, waiting),
    )


def _calls(page: _Page) -> CallView:
    key = RowKey(page.mix.id, None, Kind.CALL)
    waiting = page.waiting([key])
    calls = list(dict.fromkeys(one.call for one in waiting if one.call))
    output = page.mix.output
    advice = [_WHILE_WAITING[call, output] for call in calls if (call, output) in _WHILE_WAITING]
    return CallView(
        waiting=tuple(wording.CALLS[call].lower() for call in calls),
        advice=tuple(advice),
        status=() if calls else _answer_lines(page.show, key),
        take_back=_take_back(page.show, waiting),
    )


def _status(page: _Page, keys: Sequence[RowKey]) -> tuple[str, ...]:
    lines: list[str] = []
    for key in keys:
        waiting = page.rows.get(key)
        lines += [_waiting_line(page.show, key, waiting)] if waiting else _answer_lines(page.show, key)
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
    own = [request for request in requests if not request.group]
    if not own:
        return "the desk is changing the preamp"
    return f"asked {wording.change(key.kind, total(key.kind, own))}, {state}"


def _answer_lines(show: Show, key: RowKey) -> tuple[str, ...]:
    decision = show.decisions.get(show.latest.get(key, ""))
    return () if decision is None else (_answer_line(key.kind, decision),)


def _answer_line(kind: Kind, decision: Decision) -> str:
    reason = wording.reason(decision.reason)
    if decision.outcome is Outcome.NOT_DONE:
        return f"not done: {reason}"
    because = f": {reason}" if reason else ""
    if decision.way is Way.REST_DOWN:
        return f"done: the rest of your mix {wording.rest_change(decision)}{because}"
    if kind in (Kind.SOUND, Kind.CALL) or decision.done_for_musicians is None:
        return f"done{because}"
    done = wording.change(kind, decision.done_for_musicians)
    if decision.way is Way.SAME_LOUDNESS:
        because = f", the whole mix turned to stay as loud{because}"
    if decision.done_for_musicians == decision.asked_by_musicians:
        return f"done {done}{because}"
    return f"asked {wording.change(kind, decision.asked_by_musicians)}, done {done}{because}"


def _take_back(show: Show, waiting: Sequence[Request]) -> tuple[TakeBack, ...]:
    own = [request for request in waiting if not request.group]
    newest_first = sorted(own, key=lambda request: int(request.id[1:]), reverse=True)
    return tuple(TakeBack(one.id, _take_back_text(show, one)) for one in newest_first)


def _take_back_text(show: Show, request: Request) -> str:
    is_shared = len(show.mix(request.key.mix).musicians) > 1
    who = f"{show.musician_name(request.musician)} " if is_shared else ""
    if request.call is not None:
        return f"{who}{wording.CALLS[request.call].lower()}"
    what = request.words or wording.change(request.key.kind, request.amount)
    return f"{who}{what}"
