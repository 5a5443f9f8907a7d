"""What the desk shows: the queue in working order, every mix beside it, and the last decisions to take back."""

from collections.abc import Sequence
from dataclasses import dataclass

from monreq.domain.decibels import to_tenths
from monreq.domain.drifts import drift_db
from monreq.domain.queue import Row, queue
from monreq.domain.requests import Call, Decision, Kind, Outcome, RowKey
from monreq.domain.show import Show
from monreq.web import wording
from monreq.web.places import Place, Places

LAST_DECISIONS = 5  # chosen: a mistaken key is noticed at once, or in the mix's history
LOUD_DRIFT_TENTHS = 30  # a mix that drifted more than 3 dB wants a hand

_CALL_STEPS = {
    Call.HURTS: "output down; ask what hurts",
    Call.SQUEAL: "take back the last raise there, or output down; it may be another wedge or the house",
    Call.NOTHING: "desk first: mute, output, listen on cue; then pack (on, battery, volume, channel, plug) or wedge (power, cable)",
    Call.TALK: "talkback",
}


@dataclass(frozen=True, slots=True)
class RowView:
    """One row of the queue in words.

    Attributes:
        requests: Ids of exactly the requests shown here, parted by spaces.
        key_figure: The sum, or what is asked in a word.
        set_to: "from" and "to" of the hand, or one standing figure.
        done: What the first key records.
        is_quick: Whether the first key may record it: there is something to record.
    """

    requests: str
    mix_name: str
    tape: str
    key_figure: str
    now: str
    set_to: str
    asked: str
    cautions: tuple[str, ...]
    urgent: str
    steps: str
    done: str
    is_quick: bool
    takes_figure: bool
    takes_level: bool
    is_set_aside: bool
    oldest_at_ms: int


@dataclass(frozen=True, slots=True)
class MixHeadView:
    """The line above the rows of a mix."""

    name: str
    kind: str
    auxes: str
    place: str


@dataclass(frozen=True, slots=True)
class MixView:
    """One mix in the table beside the queue."""

    mix: str
    name: str
    kind: str
    drift: str
    is_loud: bool
    waits: str


@dataclass(frozen=True, slots=True)
class DecisionView:
    """One decision that can be taken back."""

    decision: str
    text: str


@dataclass(frozen=True, slots=True)
class StatusView:
    """The line on top."""

    name: str
    waiting: int
    is_open: bool
    is_demo: bool
    marked_at_ms: int | None


def row_place(key: RowKey) -> str:
    """Return the id of a row's place."""
    return f"row-{key.mix}-{key.source or ''}-{key.kind}"


def desk_places(show: Show) -> Places:
    """Return the places of the desk's page."""
    rows = queue(show)
    children = _queue_children(show, rows)
    mixes = {f"mix-{mix}": Place("desk/_mix.html", _mix(show, mix, rows)) for mix in show.mixes}
    status = StatusView(show.name, len(rows), show.is_open, show.is_demo, show.marked_at_ms)
    return {
        "status": Place("desk/_status.html", status),
        "queue": Place("desk/_queue.html", not rows, tuple(children)),
        **children,
        "mixes": Place("desk/_mixes.html", show.marked_at_ms, tuple(mixes)),
        **mixes,
        "decisions": Place("desk/_decisions.html", _decisions(show)),
    }


def _queue_children(show: Show, rows: Sequence[Row]) -> dict[str, Place]:
    """Put a head above each run of rows of one mix; urgent calls name their mix themselves."""
    children: dict[str, Place] = {}
    above = ""
    for row in rows:
        mix = row.key.mix
        if row.urgent is None and mix != above:
            facts = show.mix(mix)
            head = MixHeadView(facts.name, wording.mix_kind(facts), wording.auxes(facts), facts.place)
            children[f"head-{mix}-{row.requests[0].id}"] = Place("desk/_head.html", head)
        above = mix if row.urgent is None else ""
        children[row_place(row.key)] = Place("desk/_row.html", _row(show, row))
    return children


def _row(show: Show, row: Row) -> RowView:
    kind, suggested = row.key.kind, row.suggestion.move
    target = row.set_to
    return RowView(
        requests=" ".join(request.id for request in row.requests),
        mix_name=show.mix(row.key.mix).name,
        tape=show.source_name(row.key.source) or "Whole mix",
        key_figure=_key_figure(row),
        now=wording.standing(kind, row.now) if row.now and kind is not Kind.SOUND else "",
        set_to=wording.standing(kind, target) if target and target != row.now else "",
        asked=_asked(show, row),
        cautions=tuple(wording.caution(show, row, one) for one in row.suggestion.cautions),
        urgent=_urgent(show, row),
        steps=_CALL_STEPS[row.urgent] if row.urgent else "",
        done=_done(row),
        is_quick=suggested != 0,
        takes_figure=kind in (Kind.LEVEL, Kind.PAN, Kind.CALL),
        takes_level=kind in (Kind.LEVEL, Kind.CALL),
        is_set_aside=row.is_set_aside,
        oldest_at_ms=row.oldest_at_ms,
    )


def _key_figure(row: Row) -> str:
    if row.key.kind is Kind.SOUND:
        return "sound"
    return "" if row.asked is None else wording.change(row.key.kind, row.asked)


def _asked(show: Show, row: Row) -> str:
    """Say how often it was asked and by whom, with each figure: asked 2 times by Bass, +3 +3."""
    names = " and ".join(dict.fromkeys(show.musician_name(one.musician) for one in row.requests))
    times = "once" if len(row.requests) == 1 else f"{len(row.requests)} times"
    if row.key.kind is Kind.SOUND:
        each = ", ".join(dict.fromkeys(one.words for one in row.requests))
    else:
        each = " ".join(wording.change(row.key.kind, one.amount) for one in row.requests if one.amount)
    return f"asked {times} by {names}" + (
        f": {each}" if (each and len(row.requests) > 1) or row.key.kind is Kind.SOUND else ""
    )


def _urgent(show: Show, row: Row) -> str:
    """Say who calls, from where, on which aux: Lead voice, centre, aux 1: HURTS."""
    if row.urgent is None:
        return ""
    mix = show.mix(row.key.mix)
    names = " and ".join(dict.fromkeys(show.musician_name(one.musician) for one in row.requests))
    calls = dict.fromkeys(wording.CALLS[one.call] for one in row.requests if one.call)
    where = ", ".join(part for part in (names, mix.place, wording.auxes(mix)) if part)
    return f"{where}: {', '.join(calls)}"


def _done(row: Row) -> str:
    """Say what the first key records, as work done."""
    move, target = row.suggestion.move, row.set_to
    if move is None or target is None:
        return "done"
    if row.key.kind is Kind.CALL:
        return f"done: output now {wording.level(target.level_tenths)}"
    return f"done {wording.change(row.key.kind, move)}"


def _mix(show: Show, mix: str, rows: Sequence[Row]) -> MixView:
    facts = show.mix(mix)
    drifted = drift_db(show, mix)
    tenths = None if drifted is None else to_tenths(round(drifted, 1))
    own = [row for row in rows if row.key.mix == mix]
    is_calling = any(row.urgent for row in own)
    return MixView(
        mix=mix,
        name=facts.name,
        kind=wording.mix_kind(facts),
        drift="" if tenths is None else f"{wording.signed(tenths)} dB",
        is_loud=tenths is not None and tenths > LOUD_DRIFT_TENTHS,
        waits="call" if is_calling else str(len(own)),
    )


def _decisions(show: Show) -> tuple[DecisionView, ...]:
    standing = [decision for decision in show.decisions.values() if not decision.is_undone]
    return tuple(
        DecisionView(decision.id, _decision_text(show, decision))
        for decision in reversed(standing[-LAST_DECISIONS:])
    )


def _decision_text(show: Show, decision: Decision) -> str:
    mix = show.mixes.get(decision.key.mix)
    source = show.source_name(decision.key.source) or "whole mix"
    what = "call" if decision.key.kind is Kind.CALL else source
    return f"{what} in {mix.name if mix else decision.key.mix}: {_outcome(decision)}"


def _outcome(decision: Decision) -> str:
    if decision.outcome is Outcome.SET_ASIDE:
        return "set aside"
    if decision.outcome is Outcome.NOT_DONE:
        return f"not done, {wording.reason(decision.reason)}"
    return "done" if decision.done is None else f"done {wording.change(decision.key.kind, decision.done)}"
