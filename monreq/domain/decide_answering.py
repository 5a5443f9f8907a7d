"""What the desk answers, corrects and marks."""

from dataclasses import replace

from monreq.domain import commands as c
from monreq.domain.cautions import CautionCode
from monreq.domain.decide_asking import cancelling
from monreq.domain.decisions import Decision
from monreq.domain.ear_refusals import DayFullSince
from monreq.domain.events import (
    Event,
    LevelCorrected,
    RequestsAnswered,
    SendPut,
    SoundcheckMarked,
)
from monreq.domain.group_refusals import LevelOfGroup
from monreq.domain.group_sends import moves_of_group
from monreq.domain.put_back import left_of_answer, put_back, same_group
from monreq.domain.queue import Row, row_of
from monreq.domain.refusals import (
    AlreadyAnswered,
    NoFigureHere,
    NoPanInMono,
    NoRequests,
    NotThisWay,
    OutsideRange,
    PanOutOfRange,
    ReasonRequired,
    SeveralRows,
    SourceNotInMix,
    SourceOff,
    UnknownRequest,
)
from monreq.domain.requests import Kind, Move, Outcome, Request, RowKey, Way, moved_by
from monreq.domain.setup import Setting, Settings
from monreq.domain.show import Show, without
from monreq.domain.suggest import PAN_LIMIT_PERCENT
from monreq.domain.telling_refusals import AnsweredByDesk
from monreq.domain.texts import NAME_LIMIT, clean, clean_words
from monreq.domain.ways import output_against, rest_down, rest_down_by, same_loudness_move, ways_for


def answer(show: Show, command: c.Answer) -> tuple[Event, ...]:
    """Answer exactly the named requests, which must be open and of one row."""
    requests = named_requests(show, command.requests)
    row = _row(show, requests, command.way)
    reason = clean_words(command.reason)
    if command.outcome is Outcome.NOT_DONE and not reason:
        raise ReasonRequired
    if command.way is not Way.PLAIN and (
        command.outcome is not Outcome.DONE or command.way not in ways_for(show, row)
    ):
        raise NotThisWay
    if command.is_as_shown and command.way is Way.PLAIN and _full_day_took(row, command):
        raise DayFullSince
    move, also = _moves(show, row, command) if command.outcome is Outcome.DONE else (None, ())
    if command.outcome is Outcome.DONE and not reason and _is_as_suggested(command):
        reason = row.cut_because
    answered = RequestsAnswered(
        decision=f"d{show.revision + 1}",
        mix=row.key.mix,
        source=row.key.source,
        kind=row.key.kind,
        requests=tuple(request.id for request in requests),
        outcome=command.outcome,
        asked=row.asked or 0,
        move=move,
        reason=reason,
        way=command.way,
        also=also,
        desk=clean(command.desk, NAME_LIMIT),
    )
    if command.outcome is Outcome.SET_ASIDE:
        return (answered,)
    left = without(show.open_requests, answered.requests).values()
    cancelled = cancelling(left, row.key, [request.musician for request in requests])
    rest = left_of_answer(_decision(show, answered))
    return (
        answered,
        *cancelled,
        *put_back(rest, show.revision + 1 + len(cancelled), same_group(requests)),
    )


def _full_day_took(row: Row, command: c.Answer) -> bool:
    """Whether less is suggested than was shown, since an ear's day became full.

    What a hand did is recorded as it was; but that a raise was on the screen says of no hand that it knows of the ear.
    """
    if command.read_tenths is None:
        advised, was_shown = row.suggestion.move, command.done
    else:
        advised, was_shown = row.suggestion.comes_in_tenths, command.read_tenths
    if advised is None or was_shown is None or was_shown <= advised:
        return False
    return any(one.code is CautionCode.DOSE_FULL for one in row.suggestion.cautions)


def _decision(show: Show, answered: RequestsAnswered) -> Decision:
    """Return what an answer will be once it is recorded, but for by whom."""
    requests = tuple(show.open_requests[one] for one in answered.requests)
    return Decision(
        answered.decision,
        RowKey(answered.mix, answered.source, answered.kind),
        answered.outcome,
        requests,
        answered.asked,
        answered.move,
        answered.reason,
        show.at_ms,
        "",
        also=answered.also,
    )


def _row(show: Show, requests: list[Request], way: Way) -> Row:
    """Return the row with what is suggested this way: at the same loudness that may be more than plainly."""
    row = row_of(show, requests[0].key, requests)
    if way is not Way.SAME_LOUDNESS or row.key.kind is not Kind.LEVEL:
        return row
    return replace(row, suggestion=replace(row.suggestion, move=same_loudness_move(show, row)))


def correct_level(show: Show, command: c.CorrectLevel) -> tuple[Event, ...]:
    """Enter what stands on the desk. The same figure again confirms it."""
    before = show.position(command.mix, command.source).setting
    if command.pan_percent and not show.mix(command.mix).is_stereo:
        raise NoPanInMono
    after = Setting(
        before.level_tenths if command.level_tenths is None else command.level_tenths,
        before.pan_percent if command.pan_percent is None else command.pan_percent,
        before.is_on if command.is_on is None else command.is_on,
    )
    check_setting(after, show.settings)
    return (LevelCorrected(Move(command.mix, command.source, before, after)),)


def enter_settings(show: Show, command: c.EnterSettings) -> tuple[Event, ...]:
    """Enter what stands on the desk for several sends at once, all or none."""
    is_start = show.mark is None
    events: list[Event] = []
    for source, setting in dict(command.settings).items():
        before = show.position(command.mix, source).setting
        if setting == before:
            continue
        check_setting(setting, show.settings)
        if setting.pan_percent and not show.mix(command.mix).is_stereo:
            raise NoPanInMono
        corrected = LevelCorrected(Move(command.mix, source, before, setting))
        events.append(SendPut(command.mix, source, setting) if is_start else corrected)
    return tuple(events)


def mark_soundcheck(_show: Show, _command: c.MarkSoundcheck) -> tuple[Event, ...]:
    """Set the soundcheck mark."""
    return (SoundcheckMarked(),)


def check_setting(setting: Setting, settings: Settings) -> None:
    """Refuse a setting that the desk cannot have.

    Raises:
        OutsideRange: The level is beyond the desk's scale.
        PanOutOfRange: The pan is beyond a side.
    """
    if not settings.lowest_tenths <= setting.level_tenths <= settings.highest_tenths:
        raise OutsideRange
    if abs(setting.pan_percent) > PAN_LIMIT_PERCENT:
        raise PanOutOfRange


def named_requests(show: Show, ids: tuple[str, ...]) -> list[Request]:
    """Return the open requests that a desk names, each once.

    Raises:
        NoRequests, UnknownRequest, SeveralRows: They are not those of one row.
        AlreadyAnswered: Some are not open any more; it says by whom they were answered.
    """
    named = list(dict.fromkeys(ids))
    if not named:
        raise NoRequests
    unknown = [one for one in named if one not in show.open_requests and one not in show.closed]
    if unknown:
        raise UnknownRequest
    closed = tuple(one for one in named if one in show.closed)
    if closed:
        desk = _answering_desk(show, closed)
        raise AnsweredByDesk(closed, desk=desk) if desk else AlreadyAnswered(closed)
    requests = [show.open_requests[one] for one in named]
    if len({request.key for request in requests}) > 1:
        raise SeveralRows
    return requests


def _answering_desk(show: Show, closed: tuple[str, ...]) -> str:
    """Return the names of the desks that answered requests; empty where none has a name, or nobody answered."""
    desks = [
        decision.desk
        for decision in show.decisions.values()
        if not decision.is_undone and any(request.id in closed for request in decision.requests)
    ]
    return ", ".join(dict.fromkeys(filter(None, desks)))


def _move(show: Show, row: Row, command: c.Answer) -> Move | None:
    """Return what the hand did: a level read off, a change, or the suggested move."""
    has_figure = command.done is not None or command.read_tenths is not None
    if row.key.kind is Kind.SOUND:
        if has_figure:
            raise NoFigureHere
        return None
    if row.now is None:
        raise SourceNotInMix
    after = _after(row, row.now, command)
    if after is None:
        return None
    check_setting(after, show.settings)
    return Move(row.key.mix, None if row.key.kind is Kind.CALL else row.key.source, row.now, after)


def _after(row: Row, now: Setting, command: c.Answer) -> Setting | None:
    """Return where the hand left it; what comes in, comes in as low as was suggested unless a level was read off."""
    kind, change = row.key.kind, row.suggestion.move if command.done is None else command.done
    if command.read_tenths is not None:
        if kind not in (Kind.LEVEL, Kind.CALL, Kind.IN_OUT):
            raise NoFigureHere
        return replace(now, level_tenths=command.read_tenths, is_on=now.is_on or kind is Kind.IN_OUT)
    if change is None:
        return None
    comes_in = kind is Kind.IN_OUT and change > 0
    suggested = row.suggestion.leads_to(kind, now) if comes_in and row.suggestion.move else None
    return suggested or moved_by(kind, now, change)


def _is_as_suggested(command: c.Answer) -> bool:
    return command.done is None and command.read_tenths is None and command.way is not Way.REST_DOWN


def _moves(show: Show, row: Row, command: c.Answer) -> tuple[Move | None, tuple[Move, ...]]:
    """Return what the hand did to what was asked for, and what it did besides."""
    if command.way is Way.REST_DOWN:
        if command.read_tenths is not None:
            raise NotThisWay
        amount = rest_down_by(show, row) if command.done is None else command.done
        return None, rest_down(show, row, amount)
    if row.is_group and row.key.kind is not Kind.SOUND:
        change, sends = _moves_of_group(show, row, command)
        return None, (*sends, *_against(show, row, command.way, change))
    move = _move(show, row, command)
    if move is None:
        return None, ()
    change = move.after.level_tenths - move.before.level_tenths
    return move, _against(show, row, command.way, change)


def _moves_of_group(show: Show, row: Row, command: c.Answer) -> tuple[int, tuple[Move, ...]]:
    """Return one change of all sends of a group, and what it came to at each."""
    if command.read_tenths is not None:
        raise LevelOfGroup
    change = row.suggestion.move if command.done is None else command.done
    moves = moves_of_group(show, row.key, change or 0)
    if not moves:
        raise SourceOff
    if change and row.key.kind is Kind.LEVEL and all(move.after == move.before for move in moves):
        raise OutsideRange
    return change or 0, moves


def _against(show: Show, row: Row, way: Way, change_tenths: int) -> tuple[Move, ...]:
    """Return the move of the output that goes with a raise at the same loudness."""
    if way is not Way.SAME_LOUDNESS:
        return ()
    against = output_against(show, row, change_tenths)
    check_setting(against.after, show.settings)
    return (against,)
