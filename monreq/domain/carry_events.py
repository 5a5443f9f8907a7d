"""Events of a band that was taken over into a show; see `events` for their manner."""

from dataclasses import dataclass

from monreq.domain.setup import Setting


@dataclass(frozen=True, slots=True)
class LevelsCarried:
    """A mix starts from a kept one: planned settings, confirmed by nobody; the source None is the output."""

    mix: str
    settings: tuple[tuple[str | None, Setting], ...]


CarryEvent = LevelsCarried
