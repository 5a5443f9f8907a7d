"""What musicians ask, and what becomes of it in the queue at once."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from monreq.domain import commands as c
from monreq.domain.events import DESK, ChangeAsked, Event, RequestsCancelledOut, RequestWithdrawn
from monreq.domain.group_refusals import OneSourceAtATime
from monreq.domain.group_sends import asked_source, settings_of
from monreq.domain.refusals import (
    AlreadyAnswered,
    ChangeTooLarge,
    MusicianRequired,
    NobodyInMix,
    NoChange,
    NoPanInMono,
    NotYours,
    PanOutOfRange,
    SourceAlreadyOn,
    SourceOff,
    SourceRequired,
    TalkbackNotLess,
    TooManyWaiting,
    UnknownMusician,
    UnknownRequest,
    WordsRequired,
)
from monreq.domain.requests import Call, Kind, Request, RowKey, amounts_in_tenths
from monreq.domain.setup import Settings, SourceUse
from monreq.domain.show import Show, without
from monreq.domain.texts import clean_words

LARGEST_CHANGE_TENTHS = 120  # chosen: more than this in one go is a mistake of the thumb
LARGEST_PAN_CHANGE_PERCENT = 200
MOST_WAITING = 50  # chosen: nobody can want more at once; keeps one phone from filling the desk


@dataclass(frozen=True, slots=True)
class _Asked:
    """What was asked, before it is known who asks."""

    kind: Kind
    source: str | None
    amount: int = 0
    words: str = ""
    call: Call | None = None


def ask_for_level(show: Show, command: c.AskForLevel) -> tuple[Event, ...]:
    """Ask for more or less of a source, a group, or the whole mix."""
    change = _in_tenths(command.change, show.settings)
    source = asked_source(show, command.mix, command.source)
    settings = settings_of(show, command.mix, source)
    if change == 0:
        raise NoChange
    if abs(change) > LARGEST_CHANGE_TENTHS:
        raise ChangeTooLarge
    if not any(setting.is_on for setting in settings):
        raise SourceOff
    if change < 0 and _is_talkback(show, source):
        raise TalkbackNotLess
    return _ask(show, command, _Asked(Kind.LEVEL, source, change))


def ask_for_pan(show: Show, command: c.AskForPan) -> tuple[Event, ...]:
    """Ask for a source to be further left or right."""
    if command.source is None:
        raise SourceRequired
    if command.source in show.groups:
        raise OneSourceAtATime
    position = show.position(command.mix, command.source)
    if not show.mix(command.mix).is_stereo:
        raise NoPanInMono
    if command.change_percent == 0:
        raise NoChange
    if abs(command.change_percent) > LARGEST_PAN_CHANGE_PERCENT:
        raise PanOutOfRange
    if not position.setting.is_on:
        raise SourceOff
    return _ask(show, command, _Asked(Kind.PAN, command.source, command.change_percent))


def ask_for_in_or_out(show: Show, command: c.AskForInOrOut) -> tuple[Event, ...]:
    """Ask for a source to be put into the mix or taken out; the opposite of what waits is always possible."""
    if command.source is None:
        raise SourceRequired
    source = asked_source(show, command.mix, command.source)
    settings = settings_of(show, command.mix, source)
    if not command.is_in and _is_talkback(show, source):
        raise TalkbackNotLess
    waits = bool(show.requests_in(RowKey(command.mix, source, Kind.IN_OUT)))
    if all(setting.is_on is command.is_in for setting in settings) and not waits:
        raise SourceAlreadyOn if command.is_in else SourceOff
    return _ask(show, command, _Asked(Kind.IN_OUT, source, 1 if command.is_in else -1))


def ask_about_sound(show: Show, command: c.AskAboutSound) -> tuple[Event, ...]:
    """Say in words what is wrong with the sound."""
    source = asked_source(show, command.mix, command.source)
    settings_of(show, command.mix, source)
    words = clean_words(command.words)
    if not words:
        raise WordsRequired
    return _ask(show, command, _Asked(Kind.SOUND, source, words=words))


def call_desk(show: Show, command: c.CallDesk) -> tuple[Event, ...]:
    """Call the desk at once; the same call again is one more ask in the same row."""
    show.mix(command.mix)
    return _ask(show, command, _Asked(Kind.CALL, None, call=command.call))


def withdraw(show: Show, command: c.Withdraw) -> tuple[Event, ...]:
    """Take an open request back."""
    request = show.open_requests.get(command.request)
    if request is None:
        raise AlreadyAnswered((command.request,)) if command.request in show.closed else UnknownRequest
    if command.mix is not None and request.key.mix != command.mix:
        raise UnknownRequest
    if command.mix is not None and request.group:
        raise NotYours
    left = without(show.open_requests, [request.id]).values()
    return (RequestWithdrawn(request.key.mix, request.id), *cancelling(left, request.key, [request.musician]))


def cancelling(waiting: Collection[Request], key: RowKey, musicians: Iterable[str]) -> tuple[Event, ...]:
    """Let requests of a row leave the queue where one musician's own come to nothing together.

    What makes up for a preamp stays: it is undone with the change that it belongs to.

    Args:
        waiting: What is open once the event before this one has happened.
        key: The row in which something changed.
        musicians: Whose requests changed there.
    """
    own = [
        [one for one in waiting if not one.group and (one.key, one.musician) == (key, musician)]
        for musician in dict.fromkeys(musicians)
    ]
    gone = tuple(one.id for requests in own if _is_nothing(key.kind, requests) for one in requests)
    return (RequestsCancelledOut(key.mix, gone),) if gone else ()


def _is_nothing(kind: Kind, own: Sequence[Request]) -> bool:
    """Whether a musician's requests come to nothing; in and out are not added: the opposite takes both back."""
    amounts = [request.amount for request in own]
    if kind is Kind.IN_OUT:
        return {1, -1} <= set(amounts)
    return kind in (Kind.LEVEL, Kind.PAN) and bool(own) and sum(amounts) == 0


def _ask(show: Show, command: c.Ask, asked: _Asked) -> tuple[Event, ...]:
    musician = who_asks(show, command.mix, command.musician)
    waiting = sum(request.musician == musician for request in show.open_requests.values())
    if command.by != DESK and waiting >= MOST_WAITING:
        raise TooManyWaiting
    key = RowKey(command.mix, asked.source, asked.kind)
    request = Request(f"r{show.revision + 1}", key, musician, asked.amount, asked.words, asked.call, at_ms=0)
    event = ChangeAsked(
        request.id,
        key.mix,
        key.source,
        key.kind,
        musician,
        asked.amount,
        asked.words,
        asked.call,
        command.client_id,
    )
    return (event, *cancelling([*show.open_requests.values(), request], key, [musician]))


def who_asks(show: Show, mix: str, musician: str | None) -> str:
    """Return the musician of a mix whose word this is; None is its only one.

    Raises:
        UnknownMix: There is no such mix.
        NobodyInMix, MusicianRequired, UnknownMusician: Nobody can be taken for who it was.
    """
    musicians = show.mix(mix).musicians
    if not musicians:
        raise NobodyInMix
    if musician is None:
        if len(musicians) != 1:
            raise MusicianRequired
        return musicians[0]
    if musician not in musicians:
        raise UnknownMusician
    return musician


def _in_tenths(change: int | c.NamedAmount, settings: Settings) -> int:
    if isinstance(change, int):
        return change
    return amounts_in_tenths(settings)[change.amount] * (1 if change.is_more else -1)


def _is_talkback(show: Show, source: str | None) -> bool:
    facts = show.sources.get(source or "")
    return facts is not None and facts.use is SourceUse.TALKBACK
