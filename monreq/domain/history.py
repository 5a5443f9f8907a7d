"""The history of a mix: its events as entries that say what changed, and the difference between two moments."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from monreq.domain import carry_events as k
from monreq.domain import events as e
from monreq.domain import measuring_events as m
from monreq.domain.hearing_events import HeardSaid
from monreq.domain.requests import Call, Kind, Move, Outcome, Way
from monreq.domain.setup import Setting
from monreq.domain.show import Show


class What(StrEnum):
    """What an entry records."""

    ASKED = "asked"
    CANCELLED_OUT = "cancelled_out"
    WITHDRAWN = "withdrawn"
    DONE = "done"
    NOT_DONE = "not_done"
    SET_ASIDE = "set_aside"
    UNDONE = "undone"
    HEARD = "heard"
    CORRECTED = "corrected"
    ENTERED = "entered"
    SOURCE_TAKEN_OFF = "source_taken_off"
    MIX_CHANGED = "mix_changed"
    CARRIED_OVER = "carried_over"
    PUT_LOW = "put_low"
    MIX_REMOVED = "mix_removed"
    SOUNDCHECK_MARK = "soundcheck_mark"
    PREAMP_PLANNED = "preamp_planned"
    PREAMP_TURNED = "preamp_turned"
    PREAMP_DROPPED = "preamp_dropped"
    MARGIN_READ = "margin_read"
    MARGINS_STALE = "margins_stale"
    EAR_LEVEL_MEASURED = "ear_level_measured"


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that changed a mix, or that was asked of it.

    Attributes:
        at_ms: When it was recorded. [ms since 1970, UTC]
        by: A musician's id, or the desk.
        source: Which send it is about; None for the output, the whole mix, or no single one.
        kind: What was asked or answered; None for entries that are about no request.
        amount: What was asked for, in the unit of the kind; for an answer the sum of its requests. Where something was
            measured or turned, its figure. [0.1 dB]
        before, after: The settings around a move; None where nothing was moved.
        words: What was said of the sound, or how it was measured; what was heard, as its code.
        reason: A reason's code or free words; empty if none.
        requests: Ids of those concerned.
        decision: The id of the answer that this is, or that was taken back.
        way: How it met what was asked.
        also: Further moves that belong to it.
        group: The preamp change that it is about, or makes up for; empty if none.
        open_mics: How many mics were open at a reading.
    """

    revision: int
    at_ms: int
    by: str
    what: What
    source: str | None = None
    kind: Kind | None = None
    amount: int | None = None
    words: str = ""
    call: Call | None = None
    before: Setting | None = None
    after: Setting | None = None
    reason: str = ""
    requests: tuple[str, ...] = ()
    decision: str | None = None
    way: Way = Way.PLAIN
    also: tuple[Move, ...] = ()
    group: str = ""
    open_mics: int | None = None


@dataclass(frozen=True, slots=True)
class Difference:
    """Where a send, or the output (source None), stood then and stands now; None: it was not in the mix."""

    source: str | None
    then: Setting | None
    now: Setting | None


_OUTCOMES = {
    Outcome.DONE: What.DONE,
    Outcome.NOT_DONE: What.NOT_DONE,
    Outcome.SET_ASIDE: What.SET_ASIDE,
}
_ABOUT_ANSWERS = (What.UNDONE, What.HEARD)
_WITHOUT_FIGURES: Mapping[type[e.Event], What] = {
    e.MixPut: What.MIX_CHANGED,
    k.LevelsCarried: What.CARRIED_OVER,
    k.LevelsPutLow: What.PUT_LOW,
    e.MixRemoved: What.MIX_REMOVED,
    e.SoundcheckMarked: What.SOUNDCHECK_MARK,
}


def history(log: Iterable[e.Recorded]) -> tuple[Entry, ...]:
    """Turn the events about one mix, in order and from its beginning, into its history."""
    entries: list[Entry] = []
    about: dict[str, Entry] = {}
    for recorded in log:
        entry = _entry(recorded, about)
        if entry is not None:
            entries.append(entry)
            about.update({entry.requests[0]: entry} if entry.what is What.ASKED else {})
            about.update(
                {entry.decision: entry} if entry.decision and entry.what not in _ABOUT_ANSWERS else {}
            )
            about.update({entry.group: entry} if entry.what is What.PREAMP_PLANNED else {})
    return tuple(entries)


def difference(then: Show, now: Show, mix: str) -> tuple[Difference, ...]:
    """Return what stands differently in a mix at two moments of one show: the output first, then the sends.

    A mix that one of the two moments does not know stands nowhere then.
    """
    before, after = _settings(then, mix), _settings(now, mix)
    return tuple(
        Difference(source, before.get(source), after.get(source))
        for source in dict.fromkeys((*after, *before))
        if before.get(source) != after.get(source)
    )


def _settings(show: Show, mix: str) -> dict[str | None, Setting]:
    if mix not in show.levels:
        return {}
    settings: dict[str | None, Setting] = {None: show.levels[mix].output.setting}
    return settings | {source.id: position.setting for source, position in show.sends_in_order(mix)}


def _entry(recorded: e.Recorded, about: dict[str, Entry]) -> Entry | None:
    """Return the entry of an event; `about` finds what was asked and decided before, by id."""
    event = recorded.event
    match event:
        case e.ChangeAsked():
            return _asked(recorded, event)
        case e.RequestsAnswered():
            return _answered(recorded, event)
        case e.DecisionUndone(decision=decision, requests=requests):
            of_what = _of(recorded, What.UNDONE, about.get(decision))
            of_what = replace(of_what, requests=requests, decision=decision, also=event.also)
            return _moved(of_what, event.move)
        case e.RequestWithdrawn(request=request, reason=reason):
            of_what = _of(recorded, What.WITHDRAWN, about.get(request))
            return replace(of_what, requests=(request,), reason=reason)
        case e.RequestsCancelledOut(requests=requests):
            of_what = _of(recorded, What.CANCELLED_OUT, about.get(requests[0]))
            return replace(of_what, amount=None, requests=requests)
        case _:
            return _about_no_request(recorded) or _of_earlier(recorded, about) or _measured(recorded)


def _about_no_request(recorded: e.Recorded) -> Entry | None:
    event = recorded.event
    match event:
        case e.LevelCorrected(move=move):
            return _moved(_plain(recorded, What.CORRECTED), move)
        case e.SendPut(source=source, setting=setting):
            return replace(_plain(recorded, What.ENTERED), source=source, after=setting)
        case e.SendRemoved(source=source):
            return replace(_plain(recorded, What.SOURCE_TAKEN_OFF), source=source)
        case e.MixPut() | e.MixRemoved() | e.SoundcheckMarked() | k.LevelsCarried() | k.LevelsPutLow():
            return _plain(recorded, _WITHOUT_FIGURES[type(event)])
        case _:
            return None


def _of_earlier(recorded: e.Recorded, about: dict[str, Entry]) -> Entry | None:
    match recorded.event:
        case m.PreampChangePlanned(change=change, source=source, change_tenths=turned):
            return replace(_plain(recorded, What.PREAMP_PLANNED), source=source, amount=turned, group=change)
        case HeardSaid(decision=decision, heard=heard):
            of_answer = _of(recorded, What.HEARD, about.get(decision))
            return replace(of_answer, decision=decision, amount=None, words=heard.value)
        case m.PreampMoved(change=change):
            return _of(recorded, What.PREAMP_TURNED, about.get(change))
        case m.PreampChangeDropped(change=change):
            return _of(recorded, What.PREAMP_DROPPED, about.get(change))
        case _:
            return None


def _measured(recorded: e.Recorded) -> Entry | None:
    match recorded.event:
        case m.MarginRead(source=source, margin_tenths=margin, open_mics=mics):
            return replace(_plain(recorded, What.MARGIN_READ), source=source, amount=margin, open_mics=mics)
        case m.MarginsMadeStale(because=because):
            return replace(_plain(recorded, What.MARGINS_STALE), reason=because)
        case m.EarLevelMeasured(level_tenths=level, words=words):
            return replace(_plain(recorded, What.EAR_LEVEL_MEASURED), amount=level, words=words)
        case _:
            return None


def _asked(recorded: e.Recorded, event: e.ChangeAsked) -> Entry:
    return replace(
        _plain(recorded, What.ASKED),
        source=event.source,
        kind=event.kind,
        amount=event.amount,
        words=event.words,
        call=event.call,
        requests=(event.request,),
        group=event.group,
    )


def _answered(recorded: e.Recorded, event: e.RequestsAnswered) -> Entry:
    entry = replace(
        _plain(recorded, _OUTCOMES[event.outcome]),
        source=event.source,
        kind=event.kind,
        amount=event.asked,
        reason=event.reason,
        requests=event.requests,
        decision=event.decision,
        way=event.way,
        also=event.also,
    )
    return _moved(entry, event.move)


def _of(recorded: e.Recorded, what: What, earlier: Entry | None) -> Entry:
    """Return an entry about the source and kind of an earlier one."""
    entry = _plain(recorded, what)
    if earlier is None:
        return entry
    return replace(
        entry,
        source=earlier.source,
        kind=earlier.kind,
        amount=earlier.amount,
        call=earlier.call,
        way=earlier.way,
        group=earlier.group,
    )


def _moved(entry: Entry, move: Move | None) -> Entry:
    if move is None:
        return entry
    return replace(entry, source=move.source, before=move.before, after=move.after)


def _plain(recorded: e.Recorded, what: What) -> Entry:
    return Entry(recorded.revision, recorded.at_ms, recorded.by, what)
