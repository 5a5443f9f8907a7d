"""Which mixes could be shared when the desk has too few auxes, and how far that is from what each musician wants."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import product

from monreq.domain.aux_outputs import Desk, Needs, lay_out
from monreq.domain.aux_partition import Groups, best_partition
from monreq.domain.aux_points import Points
from monreq.domain.plan_refusals import AbsurdLevel, BadPlace
from monreq.domain.setup import Output

REACH_M = 2.0
"""Chosen: two wedges further apart than this do not stand before the same ears. [m]"""

AS_GOOD_AS_OFF_DB = -40.0
"""Chosen: what is off, or lower than this, counts as if it stood here: nobody hears it beside the rest. [dB]"""

LOUDEST_DB = 120.0
FURTHEST_M = 1000.0


class _Like(StrEnum):
    """Only mixes of one kind are shared with one another."""

    WEDGE = "wedge"
    IN_EAR_FED_MONO = "in_ear_fed_mono"
    IN_EAR_PAIR = "in_ear_pair"


@dataclass(frozen=True, slots=True)
class Wanted:
    """A mix that needs an aux.

    Attributes:
        output: A wedge takes one aux, an in-ear pair two.
        is_fed_mono: An in-ear pair that takes only one.
        levels: What its musician hears, by source; what is off is absent. [dB]
        place: Where it stands on stage; None if that is not known, and then a wedge is not shared. [m]
        is_lead: It is the lead singer's: it is never shared on monreq's own advice.
    """

    id: str
    output: Output
    is_fed_mono: bool = False
    levels: Mapping[str, float] = field(default_factory=dict)
    place: tuple[float, float] | None = None
    is_lead: bool = False

    def __post_init__(self) -> None:
        if not all(abs(level) <= LOUDEST_DB for level in self.levels.values()):
            raise AbsurdLevel
        if self.place is not None and not all(abs(metres) <= FURTHEST_M for metres in self.place):
            raise BadPlace

    @property
    def is_stereo(self) -> bool:
        """Whether it takes two auxes."""
        return self.like is _Like.IN_EAR_PAIR

    @property
    def like(self) -> _Like:
        """What it can be shared with, at most."""
        if self.output is Output.WEDGE:
            return _Like.WEDGE
        return _Like.IN_EAR_FED_MONO if self.is_fed_mono else _Like.IN_EAR_PAIR

    def level(self, source: str) -> float:
        """Return how loud a source is in it, or what counts as off. [dB]."""
        return max(self.levels.get(source, AS_GOOD_AS_OFF_DB), AS_GOOD_AS_OFF_DB)


@dataclass(frozen=True, slots=True)
class SharedMix:
    """One mix instead of several.

    Attributes:
        mixes: Ids of those that it stands for.
        levels: The mean of theirs, in dB; a source that comes out as good as off is left out. [dB]
        off_by_db: How far it is from each one's own, root mean square over the sources. [dB]
    """

    mixes: tuple[str, ...]
    levels: Mapping[str, float]
    off_by_db: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Sharing:
    """The cheapest way to get along with the auxes there are.

    Attributes:
        shared: The mixes to be shared; all others stay as they are.
        off_by_db: How far the shared ones are from what their musicians want, root mean square over all of them. [dB]
        is_exact: Whether it is sure that no way costs less.
    """

    shared: tuple[SharedMix, ...]
    off_by_db: float
    is_exact: bool


def sharing(desk: Desk, mixes: Sequence[Wanted], needs: Needs, reach_m: float = REACH_M) -> Sharing | None:
    """Return which mixes to share so that the desk has enough auxes, at the least distance from what each wants.

    What is least is the sum over all shared mixes of the mean square difference in dB between the shared levels and
    the musician's own, over all sources that any mix of the kind has. Wedges are shared only if all of them stand
    within reach of one another.

    Returns:
        None if no sharing within these limits is enough.
    """
    kinds = [[mix for mix in mixes if mix.like is like] for like in _Like]
    found: list[tuple[float, bool, list[SharedMix]]] = []
    best: dict[tuple[int, int], tuple[Groups, bool] | None] = {}
    for counts in _just_enough(desk, [len(kind) for kind in kinds], needs):
        for place, (kind, count) in enumerate(zip(kinds, counts, strict=True)):
            if (place, count) not in best:
                best[place, count] = best_partition(_points(kind, reach_m), count)
        parts = [best[place, count] for place, count in enumerate(counts)]
        found += _put_together(kinds, parts)
    if not found:
        return None
    _, is_exact, shared = min(found, key=lambda way: way[0])
    squares = [off_db**2 for one in shared for off_db in one.off_by_db.values()]
    return Sharing(tuple(shared), math.sqrt(math.fsum(squares) / max(1, len(squares))), is_exact)


def _just_enough(desk: Desk, counts: Sequence[int], needs: Needs) -> Iterator[tuple[int, ...]]:
    """Yield how many mixes of each kind could be kept apart, where one more of any kind would be too many."""
    fitting = {
        kept
        for kept in product(*(range(min(1, count), count + 1) for count in counts))
        if _is_enough(desk, kept, needs)
    }
    for kept in sorted(fitting, reverse=True):
        one_more = ((*kept[:place], kept[place] + 1, *kept[place + 1 :]) for place in range(len(kept)))
        if fitting.isdisjoint(one_more):
            yield kept


def _is_enough(desk: Desk, kept: Sequence[int], needs: Needs) -> bool:
    wedges, fed_mono, pairs = kept
    fewer = Needs(wedges + fed_mono, pairs, needs.external_effects, needs.internal_effects)
    return lay_out(desk, fewer).is_enough


def _points(mixes: Sequence[Wanted], reach_m: float) -> Points:
    sources = sorted({source for mix in mixes for source in mix.levels})
    rows = [[mix.level(source) for source in sources] for mix in mixes]
    return Points(
        apart=[[_mean_square(one, other) for other in rows] for one in rows],
        may_share=[
            sum(1 << place for place, other in enumerate(mixes) if _may_share(mix, other, reach_m))
            for mix in mixes
        ],
    )


def _mean_square(one: Sequence[float], other: Sequence[float]) -> float:
    squares = [(a - b) ** 2 for a, b in zip(one, other, strict=True)]
    return math.fsum(squares) / max(1, len(squares))


def _may_share(one: Wanted, other: Wanted, reach_m: float) -> bool:
    if one is other or one.is_lead or other.is_lead:
        return False
    if one.like is not _Like.WEDGE:
        return True
    return one.place is not None and other.place is not None and math.dist(one.place, other.place) <= reach_m


def _put_together(
    kinds: Sequence[Sequence[Wanted]], parts: Sequence[tuple[Groups, bool] | None]
) -> Iterator[tuple[float, bool, list[SharedMix]]]:
    """Yield cost, whether it is exact, and the shared mixes; nothing if a kind cannot be shared so far."""
    shared: list[SharedMix] = []
    is_exact = True
    for kind, part in zip(kinds, parts, strict=True):
        if part is None:
            return
        groups, is_sure = part
        is_exact = is_exact and is_sure
        sources = sorted({source for mix in kind for source in mix.levels})
        shared += [_shared([kind[place] for place in group], sources) for group in groups if len(group) > 1]
    yield math.fsum(off**2 for one in shared for off in one.off_by_db.values()), is_exact, shared


def _shared(mixes: Sequence[Wanted], sources: Sequence[str]) -> SharedMix:
    means = [math.fsum(mix.level(source) for mix in mixes) / len(mixes) for source in sources]
    return SharedMix(
        mixes=tuple(mix.id for mix in mixes),
        levels={
            source: mean for source, mean in zip(sources, means, strict=True) if mean > AS_GOOD_AS_OFF_DB
        },
        off_by_db={
            mix.id: math.sqrt(_mean_square([mix.level(source) for source in sources], means)) for mix in mixes
        },
    )
