"""Groups: sources that are asked for together, such as drums or voices."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Group:
    """Sources that are asked for together.

    Its id is drawn from the same ids as those of sources, so that a row can name either.

    Attributes:
        sources: Ids, in the order in which they were named.
        sub_mix: The source that carries them all as one send, where the desk has one; else None.
    """

    id: str
    name: str
    sources: tuple[str, ...]
    sub_mix: str | None = None
