"""Songs of a set list."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Song:
    """A song that mixes can be kept for."""

    id: str
    name: str
