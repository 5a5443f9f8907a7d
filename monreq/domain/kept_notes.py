"""What a show says of keeping: what the desk asked the musicians to keep, and what was kept of each mix."""

from dataclasses import dataclass

from monreq.domain.setup import Setting


@dataclass(frozen=True, slots=True)
class KeepQuestion:
    """Whether the musicians of a mix want it kept for the next show.

    Attributes:
        id: Drawn from the revision at which it was asked.
        settings: What would be kept, by source; None is the output.
        lowered_tenths: By how much lower than it stood the output among them is. [0.1 dB]
        agreed, declined: Musicians, in the order in which they answered.
    """

    id: str
    settings: tuple[tuple[str | None, Setting], ...]
    lowered_tenths: int = 0
    agreed: tuple[str, ...] = ()
    declined: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class KeptNote:
    """That a mix was kept.

    Attributes:
        song: The song it is for, by id; None for the whole show.
        at_ms: When. [ms since 1970, UTC]
    """

    name: str
    song: str | None
    at_ms: int
