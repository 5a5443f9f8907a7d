"""Presenters of the JSON interface: states and entries of the domain as answers, null where a field does not apply."""

import math
from collections.abc import Iterable, Sequence
from typing import TypedDict

from monreq.domain.decibels import to_db
from monreq.domain.drifts import drift_db
from monreq.domain.events import (
    ChangeAsked,
    DecisionUndone,
    Recorded,
    RequestsAnswered,
    RequestsCancelledOut,
)
from monreq.domain.levels import Position
from monreq.domain.margins import is_disproved, margin_of
from monreq.domain.queue import Row, queue, row_of
from monreq.domain.requests import Kind, RequestState, RowKey
from monreq.domain.setup import Output, Setting, Source
from monreq.domain.show import Show
from monreq.domain.trail import Trail
from monreq.web import api_answers as a
from monreq.web import caution_words, wording
from monreq.web.api_ear import ear_answer
from monreq.web.api_figures import (
    db_or_null,
    in_db,
    in_out,
    in_pan,
    level_or_null,
    moment,
    pan_or_null,
    rounded_or_null,
)
from monreq.web.api_heard import to_hear_answer
from monreq.web.api_moves import groups_answer, sends_to_set


class _Stands(TypedDict):
    revision: int
    level_db: float | None
    pan: float | None


def queue_answer(show: Show, now_ms: int) -> a.QueueAnswer:
    """Return the queue, with waiting times up to now. [ms since 1970, UTC]."""
    return a.QueueAnswer(revision=show.revision, rows=[_row(show, row, now_ms) for row in queue(show)])


def show_answer(show: Show) -> a.ShowAnswer:
    """Return a show's own facts."""
    amounts = a.AmountsAnswer(
        touch=to_db(show.settings.touch_tenths),
        some=to_db(show.settings.some_tenths),
        lot=to_db(show.settings.lot_tenths),
    )
    return a.ShowAnswer(
        show=show.id,
        name=show.name,
        revision=show.revision,
        is_open=show.is_open,
        is_demo=show.is_demo,
        marked_at=None if show.marked_at_ms is None else moment(show.marked_at_ms),
        amounts_db=amounts,
    )


def mixes_answer(show: Show, mixes: Iterable[str]) -> a.MixesAnswer:
    """Return some mixes of a show, without their sends."""
    return a.MixesAnswer(revision=show.revision, mixes=[mix_answer(show, mix) for mix in mixes])


def mix_answer(show: Show, mix: str) -> a.MixAnswer:
    """Return one mix, without its sends."""
    facts, output = show.mix(mix), show.levels[mix].output
    return a.MixAnswer(
        mix=mix,
        mix_name=facts.name,
        output=facts.output,
        is_fed_mono=facts.is_fed_mono,
        place=facts.place,
        auxes=list(facts.auxes),
        musicians=[a.MusicianAnswer(musician=one, name=show.musician_name(one)) for one in facts.musicians],
        drift_db=rounded_or_null(drift_db(show, mix)),
        waiting=sum(one.key.mix == mix and not one.is_set_aside for one in show.open_requests.values()),
        waiting_db=_waiting_db(show, mix, None),
        done_db=to_db(output.done_tenths),
        output_db=level_or_null(output.setting),
    )


def one_mix_answer(show: Show, mix: str) -> a.OneMixAnswer:
    """Return one mix with its sends."""
    return a.OneMixAnswer(
        **dict(mix_answer(show, mix)),
        revision=show.revision,
        sends=[_send(show, mix, source, position) for source, position in show.sends_in_order(mix)],
        groups=groups_answer(show, mix),
        to_hear=to_hear_answer(show, mix),
    )


def request_answer(show: Show, known: Trail) -> a.RequestAnswer:
    """Return one request."""
    kind, verdict = known.key.kind, show.heard.get(known.decision or "")
    return a.RequestAnswer(
        request=known.request,
        revision=show.revision,
        mix=known.key.mix,
        musician=known.musician,
        musician_name=show.musician_name(known.musician),
        source=known.key.source,
        source_name=show.source_name(known.key.source),
        kind=kind,
        asked_db=in_db(kind, known.amount),
        asked_pan=in_pan(kind, known.amount),
        in_out=in_out(kind, known.amount),
        words=known.words or None,
        call=known.call,
        asked_at=moment(known.asked_at_ms),
        state=known.state,
        done_db=db_or_null(known.done) if kind is Kind.CALL else in_db(kind, known.done),
        done_pan=in_pan(kind, known.done),
        reason=known.reason or None,
        reason_text=wording.reason(known.reason) or None,
        decision=known.decision,
        heard=verdict.heard if verdict else None,
    )


def ask_answer(recorded: Sequence[Recorded]) -> a.AskAnswer:
    """Return what the events of one ask came to."""
    request = next(one.event.request for one in recorded if isinstance(one.event, ChangeAsked))
    state = RequestState.CANCELLED_OUT if request in _cancelled(recorded) else RequestState.WAITING
    return a.AskAnswer(request=request, revision=recorded[-1].revision, state=state)


def decision_answer(after: Show, recorded: Sequence[Recorded]) -> a.DecisionAnswer:
    """Return what was decided, with the state right after its events."""
    event = next(one.event for one in recorded if isinstance(one.event, RequestsAnswered))
    key = RowKey(event.mix, event.source, event.kind)
    return a.DecisionAnswer(decision=event.decision, **_stands(after, key))


def undone_answer(after: Show, decision: str, recorded: Sequence[Recorded]) -> a.UndoneAnswer:
    """Return what was taken back, with the state right after its events."""
    event = next(one.event for one in recorded if isinstance(one.event, DecisionUndone))
    waiting = [request for request in event.requests if request not in _cancelled(recorded)]
    return a.UndoneAnswer(
        decision=decision, requests=waiting, **_stands(after, after.decisions[decision].key)
    )


def correction_answer(after: Show, mix: str, source: str | None) -> a.StandsAnswer:
    """Return where a send, or the output (None), stands right after it was corrected."""
    return a.StandsAnswer(**_stands(after, RowKey(mix, source, Kind.LEVEL)))


def mark_answer(recorded: Recorded) -> a.MarkAnswer:
    """Return the soundcheck mark by its event."""
    return a.MarkAnswer(revision=recorded.revision, marked_at=moment(recorded.at_ms))


def _cancelled(recorded: Sequence[Recorded]) -> set[str]:
    """Return the requests that left the queue with these events."""
    return {
        request
        for one in recorded
        if isinstance(one.event, RequestsCancelledOut)
        for request in one.event.requests
    }


def _stands(show: Show, key: RowKey) -> _Stands:
    levels = show.levels.get(key.mix)
    position = levels.at(None if key.kind is Kind.CALL else key.source) if levels else None
    setting = position.setting if position else None
    return _Stands(revision=show.revision, level_db=level_or_null(setting), pan=_pan(show, key, setting))


def _margin_db(show: Show, mix: str, source: Source) -> float | None:
    """Return what is left of a measured feedback margin, in whole tenths downwards; null also once it squealed since."""
    if show.mix(mix).output is not Output.WEDGE or not source.can_ring:
        return None
    reading = show.readings.get((mix, source.id))
    if reading is None or is_disproved(show, mix, reading):
        return None
    left = margin_of(show, mix, source.id).left_db
    return None if left is None else math.floor(round(left * 10, 6)) / 10


def _pan(show: Show, key: RowKey, setting: Setting | None) -> float | None:
    """Return the pan of a send; null in mono and for an output."""
    is_stereo = key.mix in show.mixes and show.mix(key.mix).is_stereo
    if setting is None or key.source is None or not is_stereo:
        return None
    return pan_or_null(setting.pan_percent)


def _row(show: Show, row: Row, now_ms: int) -> a.RowAnswer:
    kind, key, advice = row.key.kind, row.key, row.suggestion
    is_in_db = kind in (Kind.LEVEL, Kind.CALL)
    has_level = is_in_db or kind is Kind.IN_OUT
    set_to = row.set_to
    return a.RowAnswer(
        mix=key.mix,
        mix_name=show.mix(key.mix).name,
        source=key.source,
        source_name=show.source_name(key.source),
        kind=kind,
        sum_db=in_db(kind, row.asked),
        sum_pan=in_pan(kind, row.asked),
        in_out=in_out(kind, row.asked),
        words=[request.words for request in row.requests if request.words],
        asked=len(row.requests),
        asked_by=[show.musician_name(musician) for musician, _ in row.by_musician],
        sums=[_own_sum(show, kind, musician, amount) for musician, amount in row.by_musician],
        oldest_wait_s=max(0, now_ms - row.oldest_at_ms) // 1000,
        level_db=level_or_null(row.now),
        suggested_db=db_or_null(advice.move) if is_in_db else None,
        set_level_db=level_or_null(set_to) if has_level else None,
        sends=sends_to_set(show, row),
        pan=_pan(show, key, row.now) if kind is Kind.PAN else None,
        suggested_pan=in_pan(kind, advice.move),
        set_pan=pan_or_null(set_to.pan_percent) if set_to and kind is Kind.PAN else None,
        cautions=[caution_words.caution(show, row, one) for one in advice.cautions],
        caution_codes=[one.code.value for one in advice.cautions],
        requests=[request.id for request in row.requests],
        state=RequestState.SET_ASIDE if row.is_set_aside else RequestState.WAITING,
        urgent=row.urgent,
        ear=ear_answer(show, row, now_ms),
    )


def _own_sum(show: Show, kind: Kind, musician: str, amount: int) -> a.OwnSum:
    return a.OwnSum(
        musician=musician,
        name=show.musician_name(musician),
        sum_db=in_db(kind, amount),
        sum_pan=in_pan(kind, amount),
    )


def _send(show: Show, mix: str, source: Source, position: Position) -> a.SendAnswer:
    confirmed = position.confirmed_at_ms
    return a.SendAnswer(
        source=source.id,
        source_name=source.name,
        kind=source.kind,
        use=source.use,
        level_db=level_or_null(position.setting),
        pan=_pan(show, RowKey(mix, source.id, Kind.PAN), position.setting),
        waiting_db=_waiting_db(show, mix, source.id),
        done_db=to_db(position.done_tenths),
        margin_db=_margin_db(show, mix, source),
        confirmed_at=None if confirmed is None else moment(confirmed),
    )


def _waiting_db(show: Show, mix: str, source: str | None) -> float:
    """Return the sum of a row that waits, as the queue has it; 0 if it is set aside or there is none."""
    key = RowKey(mix, source, Kind.LEVEL)
    requests = show.requests_in(key)
    if not requests:
        return 0.0
    row = row_of(show, key, requests)
    return 0.0 if row.is_set_aside else to_db(row.asked or 0)
