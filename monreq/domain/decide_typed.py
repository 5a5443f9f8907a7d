"""What is typed at the desk is looked at before it is recorded."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from monreq.domain.events import Event, RequestsAnswered
from monreq.domain.sense import MakesLittleSense, doubts
from monreq.domain.show import Show
from monreq.domain.typed_commands import EnterTyped


def enter_typed(
    show: Show, command: EnterTyped, decide: Callable[[Show, Any, int], tuple[Event, ...]]
) -> tuple[Event, ...]:
    """Decide what was typed as if it came by itself.

    Raises:
        MakesLittleSense: There are doubts about it, at least one of which was not asked about yet.
    """
    events = decide(show, command.command, show.at_ms)
    found = doubts(show, events, command.before)
    if {one.name for one in found} - set(command.confirmed):
        raise MakesLittleSense(found)
    return tuple(replace(one, is_typed=True) if isinstance(one, RequestsAnswered) else one for one in events)
