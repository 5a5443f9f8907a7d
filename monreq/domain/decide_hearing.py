"""How a change sounds to who asked for it, and what that asks for again."""

from monreq.domain import commands as c
from monreq.domain.decide_asking import ask_for_level, who_asks
from monreq.domain.decisions import Decision
from monreq.domain.events import Event
from monreq.domain.hearing import Heard, asked_more
from monreq.domain.hearing_commands import SayHeard
from monreq.domain.hearing_events import HeardSaid
from monreq.domain.hearing_refusals import HeardAlready
from monreq.domain.refusals import UnknownDecision
from monreq.domain.show import Show


def say_heard(show: Show, command: SayHeard) -> tuple[Event, ...]:
    """Take note of how it sounds; where it is not right, ask again for who says so."""
    musician = who_asks(show, command.mix, command.musician)
    decision = show.decisions.get(command.decision)
    if decision is None or decision.key.mix != command.mix:
        raise UnknownDecision
    if decision.id not in show.to_hear.get(command.mix, ()):
        raise HeardAlready
    said = HeardSaid(decision.id, command.mix, musician, command.heard)
    change = change_again(show, decision, musician, command.heard)
    if not change:
        return (said,)
    again = c.AskForLevel(
        command.mix, musician, decision.key.source, change, by=command.by, client_id=command.client_id
    )
    return (*ask_for_level(show, again), said)


def change_again(show: Show, decision: Decision, musician: str, heard: Heard) -> int:
    """Return what a verdict asks for by itself; 0 where it is right. [0.1 dB].

    Not far enough asks for the last amount again; too far asks half of it back. # chosen: half, since the right
    place lies between the two that were heard.
    """
    if heard is Heard.RIGHT:
        return 0
    own = [one.amount for one in decision.requests if not one.group]
    by_musician = [one.amount for one in decision.requests if not one.group and one.musician == musician]
    last = abs((by_musician or own)[-1])
    direction = 1 if heard is Heard.TOO_LITTLE else -1
    is_same_way = (heard is Heard.TOO_LITTLE) is asked_more(decision)
    return direction * (last if is_same_way else _half(last, show.settings.touch_tenths))


def _half(tenths: int, touch_tenths: int) -> int:
    """Return half of an amount in whole touches, at least one."""
    return max(1, round(tenths / 2 / touch_tenths)) * touch_tenths
