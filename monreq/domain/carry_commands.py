"""Commands that take a band over into a show; see `commands` for their manner."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from monreq.domain.events import DESK
from monreq.domain.setup import Setting


@dataclass(frozen=True, slots=True)
class CarryLevels:
    """Let a mix start from a kept one; nobody looked at the desk for it.

    Attributes:
        settings: By source of the show; the source None is the output. What is not named stays as it is.
    """

    mix: str
    settings: tuple[tuple[str | None, Setting], ...]
    by: str = DESK


@dataclass(frozen=True, slots=True)
class DoTogether:
    """Do several commands one after another, all or none."""

    commands: Sequence[Any]
    by: str = DESK


@dataclass(frozen=True, slots=True)
class NoteMatches:
    """Say what the sources and mixes of a band are in the show: (id in the band, id here), ...; empty: left out."""

    band: str
    sources: tuple[tuple[str, str], ...]
    mixes: tuple[tuple[str, str], ...]
    by: str = DESK


CarryCommand = CarryLevels | DoTogether | NoteMatches
