"""The command that brings what somebody typed at the desk; see `commands` for its manner."""

from dataclasses import dataclass
from typing import Any

from monreq.domain.events import DESK
from monreq.domain.unusual import ShowsBefore


@dataclass(frozen=True, slots=True)
class EnterTyped:
    """Do what was typed if it makes sense, or if whoever typed it was asked and confirmed it.

    Attributes:
        command: An answer, a correction, or settings.
        before: How the mixes of this show stood in shows before.
        confirmed: The names of the doubts that were asked about.
    """

    command: Any
    before: ShowsBefore = ()
    confirmed: tuple[str, ...] = ()
    by: str = DESK


TypedCommand = EnterTyped
