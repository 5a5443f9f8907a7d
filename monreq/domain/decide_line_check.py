"""The line check over all mixes."""

from monreq.domain import telling_commands as t
from monreq.domain.decide_asking import who_asks
from monreq.domain.events import Event
from monreq.domain.line_check import LineCheck
from monreq.domain.refusals import UnknownSource
from monreq.domain.show import Show
from monreq.domain.telling_events import LineCheckBegun, LineCheckEnded, LineHeard
from monreq.domain.telling_refusals import LineCheckOver, NobodyToTell, UnknownLineCheck


def begin_line_check(show: Show, command: t.BeginLineCheck) -> tuple[Event, ...]:
    """Ask the mixes. Who cannot hear it, since it is off there or not on their list, is not asked.

    One that is running ends, and says so to the mixes that it asked: not all of them are asked again.
    """
    if command.source is not None and command.source not in show.sources:
        raise UnknownSource
    mixes = tuple(mix for mix in show.mixes if _has_on(show, mix, command.source))
    if not mixes:
        raise NobodyToTell
    last = show.line_check
    over = (LineCheckEnded(last.id, last.mixes),) if last is not None and not last.is_over else ()
    return (*over, LineCheckBegun(f"l{show.revision + 1}", command.source, mixes))


def answer_line_check(show: Show, command: t.AnswerLineCheck) -> tuple[Event, ...]:
    """Say whether it is heard; a later answer replaces an earlier one."""
    musician = who_asks(show, command.mix, command.musician)
    check = _running(show, command.check)
    if not check.asks(command.mix):
        raise UnknownLineCheck
    known = check.answer_of(command.mix, musician)
    if known is not None and known.is_heard is command.is_heard:
        return ()
    return (LineHeard(check.id, command.mix, musician, command.is_heard),)


def end_line_check(show: Show, command: t.EndLineCheck) -> tuple[Event, ...]:
    """End it."""
    check = _running(show, command.check)
    return (LineCheckEnded(check.id, check.mixes),)


def _running(show: Show, check: str) -> LineCheck:
    last = show.line_check
    if last is None or last.id != check:
        raise UnknownLineCheck
    if last.is_over:
        raise LineCheckOver
    return last


def _has_on(show: Show, mix: str, source: str | None) -> bool:
    position = show.levels[mix].at(source)
    return position is not None and position.setting.is_on
