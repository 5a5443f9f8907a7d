"""Matches what a band has with what a show has: by identity, then by name, then by likeness, which only proposes."""

import unicodedata
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from rapidfuzz import fuzz

from monreq.domain.setup import Mix, Musician, Source

LIKELY_PERCENT = 60.0  # chosen: "lead vox" and "lead voice" are asked about, "kick" and "bass" are not
_CERTAIN_PERCENT = 100.0


class How(StrEnum):
    """By what two things were taken for one."""

    SAME_ID = "same_id"
    SAME_NAME = "same_name"
    LIKELY = "likely"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class Named:
    """A thing that can be matched.

    Attributes:
        also: Other names it goes by; they only propose.
        heard_by: Who hears it, where it is a mix; the same people make a match likely.
    """

    id: str
    name: str
    also: tuple[str, ...] = ()
    heard_by: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Match:
    """What a thing of the band is taken for.

    Attributes:
        known: Its id in the band.
        here: The id in the show; None if it is missing there.
    """

    known: str
    here: str | None
    how: How

    @property
    def is_sure(self) -> bool:
        """Whether nobody needs to be asked."""
        return self.how in (How.SAME_ID, How.SAME_NAME)


@dataclass(frozen=True, slots=True)
class Matching:
    """All matches of one sort of thing.

    Attributes:
        matches: One for each thing of the band, in its order.
        new: Ids of what only the show has, in its order.
    """

    matches: tuple[Match, ...]
    new: tuple[str, ...]

    @property
    def unsure(self) -> tuple[Match, ...]:
        """The matches that are only proposed."""
        return tuple(one for one in self.matches if one.how is How.LIKELY)


def match(known: Sequence[Named], here: Sequence[Named]) -> Matching:
    """Match a band's things with a show's; each is taken once at most.

    Args:
        known: What the band has, each id once.
        here: What the show has, each id once.

    Returns:
        Sure matches by id and by a name that stands once on each side; likely ones, the most alike first.
    """
    found = {one.id: Match(one.id, one.id, How.SAME_ID) for one in known if one.id in {it.id for it in here}}
    found |= _by_name(*_left(known, here, found.values()))
    found |= _by_likeness(*_left(known, here, found.values()))
    matches = tuple(found.get(one.id, Match(one.id, None, How.MISSING)) for one in known)
    return Matching(matches, tuple(one.id for one in _left(known, here, matches)[1]))


def comparable(name: str) -> str:
    """Return a name as names are compared: whatever the case, the width and the spaces."""
    return " ".join(unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", name).casefold()).split())


def likeness_percent(one: str, other: str) -> float:
    """Return how alike two names are, whatever the order of their words: 0 to 100. [%]."""
    return fuzz.token_sort_ratio(comparable(one), comparable(other))


def named_sources(sources: Iterable[Source]) -> list[Named]:
    """Return sources as they are matched."""
    return [Named(one.id, one.name) for one in sources]


def named_musicians(musicians: Iterable[Musician]) -> list[Named]:
    """Return musicians as they are matched: by who they are; what they play and who sits there only proposes."""
    return [
        Named(one.id, one.name, tuple(other for other in (one.chair, one.deputy) if other))
        for one in musicians
    ]


def named_mixes(mixes: Iterable[Mix], as_in_show: Callable[[str], str | None]) -> list[Named]:
    """Return mixes as they are matched; `as_in_show` gives a musician's id in the show, None if not there."""
    return [
        Named(one.id, one.name, heard_by=frozenset(filter(None, map(as_in_show, one.musicians))))
        for one in mixes
    ]


def _left(
    known: Sequence[Named], here: Sequence[Named], found: Iterable[Match]
) -> tuple[list[Named], list[Named]]:
    """Return what is not matched yet on either side."""
    matched = [one for one in found if one.here is not None]
    taken_known, taken_here = {one.known for one in matched}, {one.here for one in matched}
    return [one for one in known if one.id not in taken_known], [
        one for one in here if one.id not in taken_here
    ]


def _by_name(known: Sequence[Named], here: Sequence[Named]) -> dict[str, Match]:
    """Match names that stand once on each side; a doubled name is for likeness, which asks."""
    there = _once(here)
    return {
        one.id: Match(one.id, there[name].id, How.SAME_NAME)
        for name, one in _once(known).items()
        if name in there
    }


def _once(things: Sequence[Named]) -> dict[str, Named]:
    names = [comparable(one.name) for one in things]
    return {name: one for name, one in zip(names, things, strict=True) if name and names.count(name) == 1}


def _by_likeness(known: Sequence[Named], here: Sequence[Named]) -> dict[str, Match]:
    pairs = [(_alike(one, other), one.id, other.id) for one in known for other in here]
    likely = sorted((pair for pair in pairs if pair[0] >= LIKELY_PERCENT), key=lambda pair: -pair[0])
    found: dict[str, Match] = {}
    taken: set[str] = set()
    for _, one, other in likely:
        if one not in found and other not in taken:
            found[one] = Match(one, other, How.LIKELY)
            taken.add(other)
    return found


def _alike(one: Named, other: Named) -> float:
    if one.heard_by and one.heard_by == other.heard_by:
        return _CERTAIN_PERCENT
    return max(likeness_percent(a, b) for a in (one.name, *one.also) for b in (other.name, *other.also))
