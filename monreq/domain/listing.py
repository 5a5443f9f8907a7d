"""Turns lists that somebody pasted into commands; what is on the show's list already is left as it is."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from monreq.domain import commands as c
from monreq.domain.chair_list import ListedMix
from monreq.domain.input_list import Listed
from monreq.domain.setup import Mix, Musician, Source
from monreq.domain.show import Show

NewId = Callable[[int], str]
"""Returns an id for the thing of a number, always the same one, so that a list sent twice adds nothing twice."""


@dataclass(frozen=True, slots=True)
class Listing:
    """What a list comes to.

    Attributes:
        already: The names that the show has already.
    """

    commands: tuple[c.Command, ...]
    already: tuple[str, ...]


def list_sources(show: Show, listed: Iterable[Listed], new_id: NewId) -> Listing:
    """Return what adds the sources that the show does not have."""
    known = {one.name.casefold() for one in show.sources.values()}
    commands: list[c.Command] = []
    already: list[str] = []
    for number, one in enumerate(listed):
        if one.name.casefold() in known:
            already.append(one.name)
        else:
            commands.append(c.PutSource(_source(new_id(number), one)))
    return Listing(tuple(commands), tuple(already))


def _source(source: str, one: Listed) -> Source:
    return Source(source, one.name, one.kind, one.is_stereo, one.use, is_acoustic=one.is_acoustic)


def list_chairs(show: Show, listed: Iterable[ListedMix], new_id: NewId) -> Listing:
    """Return what adds the chairs that the show does not have, each line with a mix of its own."""
    known = {(one.chair or one.name).casefold() for one in show.musicians.values()}
    commands: list[c.Command] = []
    already: list[str] = []
    number = 0
    for line in listed:
        fresh = [one for one in line.chairs if (one.chair or one.name).casefold() not in known]
        already += [one.chair or one.name for one in line.chairs if one not in fresh]
        if len(fresh) < len(line.chairs):
            continue
        ids = [new_id(number + place) for place in range(len(fresh) + 1)]
        number += len(ids)
        commands += [
            c.PutMusician(Musician(musician, one.name, one.is_lead, one.chair))
            for musician, one in zip(ids[1:], fresh, strict=True)
        ]
        commands.append(c.PutMix(Mix(ids[0], line.name, line.output, tuple(ids[1:]), line.place)))
    return Listing(tuple(commands), tuple(already))
